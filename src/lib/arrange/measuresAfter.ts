/** Where the measures of a piece stand after it was changed, so that what was said of them can go along. */
import type { Measure, Piece } from './piece';

/** What a measure says, for a comparison: its chords and its notes, whatever its signs. */
const saidIn = ({ chords, notes }: Measure): string =>
  JSON.stringify([
    chords.map(({ at, chord }) => [at, chord === 'no chord' ? '' : chord.symbol]),
    notes.map(({ at, lasts, pitch }) => [at, lasts, pitch]),
  ]);

/**
 * By a measure's number before, from 1: its number now, or nothing where it is gone. As many from the front as say
 * what they said stay where they are, as many from the back move along; between them each stays in its place where
 * there are as many as before.
 */
export function measuresAfter(
  { measures: before }: Pick<Piece, 'measures'>,
  { measures: after }: Pick<Piece, 'measures'>,
): (measure: number) => number | undefined {
  const [was, now] = [before.map(saidIn), after.map(saidIn)];
  const shorter = Math.min(was.length, now.length);
  let front = 0;
  while (front < shorter && was[front] === now[front]) front++;
  let back = 0;
  while (back < shorter - front && was.at(-1 - back) === now.at(-1 - back)) back++;
  const more = now.length - was.length;
  return (measure) => {
    if (measure <= front) return measure;
    // what is said up to behind the end goes on to there
    if (measure > was.length - back) return measure + more;
    return more === 0 ? measure : undefined;
  };
}
