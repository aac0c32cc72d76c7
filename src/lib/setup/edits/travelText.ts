/**
 * A pull as a player writes it: `+2`, `-1/-2` (half-stop, then full), or the note that it gives, such
 * as `C#` or `D/C#`. Empty means no pull.
 */
import { ok, refuse, type Result } from '$lib/result';
import {
  chromaOf,
  chromaOfName,
  nameText,
  parseNoteName,
  parsePitch,
  pitchText,
  type Pitch,
} from '$lib/theory/pitch';
import { semitonesWords } from '../moveWords';
import { signedToType } from '$lib/theory/signed';
import { halfStopsOf, mayHalt } from '../halfStops';
import type { Pull } from '../setup';
import { BOUNDS } from '../bounds';

/** How far a pull goes, and where its half-stop is. */
export type Travel = Pick<Pull, 'semitones' | 'half'>;

const MOST = BOUNDS.semitones[1];
const FORMS = 'such as +2, -1/-2 (half-stop, then full) or the note it gives';

/** As `readTravel` takes it. */
export const travelText = ({ semitones, half }: Travel): string =>
  half === undefined ? signedToType(semitones) : `${signedToType(half)}/${signedToType(semitones)}`;

/** Semitones from an open string to a note: the near one of that name, or just the one in its octave. */
function towards(text: string, open: Pitch): Result<number, string> {
  const pitch = parsePitch(text);
  if (pitch !== undefined) return ok(pitch.midi - open.midi);
  const name = parseNoteName(text);
  if (name === undefined) return refuse(`“${text}” is no pull; write one ${FORMS}.`);
  const up = chromaOf(chromaOfName(name) - open.midi);
  if (up === 6)
    return refuse(
      `${nameText(name)} is as far up from ${pitchText(open)} as down; write +6 or -6.`,
    );
  return ok(up > 6 ? up - 12 : up);
}

/** A number of semitones; without a sign it goes the way of what stands before it, or up. */
function semitonesOf(text: string, open: Pitch, before: number): Result<number, string> {
  const match = /^([+-]?)(\d{1,3})$/.exec(text);
  if (match === null) return towards(text, open);
  const size = Number(match[2]);
  return ok(match[1] === '-' || (match[1] === '' && before < 0) ? -size : size);
}

/** Reads what a player wrote for a string; `undefined` where the pull is to go. */
export function readTravel(text: string, open: Pitch): Result<Travel | undefined, string> {
  const parts = text
    .replaceAll('−', '-')
    .split('/')
    .map((part) => part.trim());
  if (parts.length === 1 && parts[0] === '') return ok(undefined);
  if (parts.length > 2) return refuse(`“${text}” has more than two stops; write one ${FORMS}.`);
  let before = 0;
  const stops: number[] = [];
  for (const part of parts) {
    const read = semitonesOf(part, open, before);
    if (!read.ok) return read;
    before = read.value;
    stops.push(read.value);
  }
  const semitones = stops.at(-1) ?? 0;
  const half = stops.length > 1 ? stops[0] : undefined;
  if (Math.abs(semitones) > MOST)
    return refuse(`A pull goes at most ${MOST} semitones; this is ${semitonesWords(semitones)}.`);
  if (semitones === 0)
    return half === undefined && !/\d/.test(text)
      ? refuse(`${pitchText(open)} is the open note; leave the cell empty for no pull.`)
      : refuse('A pull of 0 moves nothing; leave the cell empty for no pull.');
  if (half === undefined) return ok({ semitones });
  if (!mayHalt(semitones, half))
    return refuse(
      halfStopsOf(semitones) === undefined
        ? 'A pull of one semitone has no half-stop on the way.'
        : `A half-stop lies on the way to ${signedToType(semitones)}; ${signedToType(half)} does not.`,
    );
  return ok({ semitones, half });
}
