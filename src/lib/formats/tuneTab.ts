/** A tune in a texture as tablature: every note in its place, repeats written out as they are played. */
import { orderOf } from '$lib/arrange/inOrder';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { tuneMeasures, type TuneMeasure } from '$lib/arrange/tuneMeasures';
import { harmonicOf, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import type { Chord } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import type { TabPiece, TabStep } from './tablature';

const symbolOf = (chord: Chord | 'no chord' | undefined): string =>
  chord === undefined ? '' : chord === 'no chord' ? 'N.C.' : chord.symbol;

type Struck = TuneStep & Partial<Pick<StruckStep, 'strike'>>;

/** What stands in a measure, rests too; a measure of nothing but a rest is there all the same. */
function stepsIn(
  setup: Setup,
  { at: begins, lasts, measure, section, steps, chords }: TuneMeasure<Struck>,
  bar: number,
  strikeBefore: Struck['strike'],
): TabStep[] {
  const end = begins + lasts;
  const named = [...chords];
  const found: TabStep[] = [];
  const add = (at: number, until: number, more: Partial<TabStep>): void => {
    const due = named.findLastIndex((each) => each.at <= at + SAME_PLACE);
    // two chords at once are one place to write
    const [chord] = named.splice(0, due + 1).slice(-1);
    found.push({
      chord: symbolOf(chord?.chord),
      ...(chord === undefined ? { unnamed: true as const } : {}),
      ...{ bar, number: String(measure + 1), beats: until - at },
      ...(section === undefined || found.length > 0 ? {} : { section }),
      ...more,
    });
  };
  let reached = begins;
  let struck = strikeBefore;
  steps.forEach(({ step }, order) => {
    const { at, lasts: long } = step.onset;
    if (at > reached + SAME_PLACE) add(reached, at, {});
    const next = steps[order + 1]?.step.onset.at ?? end;
    const until = Math.min(at + long, next, end);
    const { hold, strings, way } = step;
    const rings = new Set(
      strings.filter(({ reached: how }) => how !== 'picked').map(({ string }) => string),
    );
    const { strike } = step;
    const isNew = strike !== struck;
    struck = strike;
    add(at, until, {
      ...(isNew ? { strike: strike ?? 'as usual' } : {}),
      voicing: {
        neck: hold.neck,
        strings: hold.strings,
        frets: fretsOf(setup, step),
        engaged: way,
        ...touchedAt(step),
      },
      held: hold.strings.filter((string) => rings.has(string)),
    });
    reached = until;
  });
  if (reached < end - SAME_PLACE) add(reached, end, {});
  return found;
}

/** How many frets beyond the bar its strings are touched. */
const touchedAt = ({ strike }: Struck): { readonly touched?: number } => {
  const harmonic = harmonicOf(strike);
  return harmonic === undefined ? {} : { touched: harmonic.frets };
};

/** The fret at each string; under a slanted bar they differ. */
export function fretsOf(setup: Setup, { hold }: TuneStep): number[] {
  if (hold.slant === 0) return hold.strings.map(() => hold.fret);
  const straight = sounding(setup, hold.neck, hold.engaged, hold.fret);
  return hold.strings.map(
    (string, at) => hold.fret + (hold.pitches[at] ?? 0) - (straight[string - 1] ?? 0),
  );
}

/** Everything that is played, in the order of playing. */
export function tuneTab(setup: Setup, piece: Piece, steps: readonly Struck[]): TabPiece {
  const { order } = orderOf(piece.measures);
  const measures = tuneMeasures(piece, steps);
  return {
    title: piece.title ?? '',
    setup,
    steps: measures.flatMap((each, bar) => {
      const before = measures.slice(0, bar).findLast((one) => one.steps.length > 0);
      return stepsIn(setup, each, bar + 1, before?.steps.at(-1)?.step.strike);
    }),
    ...(order.length > piece.measures.length ? { remark: 'Repeats are written out.' } : {}),
  };
}
