/** How a pitch of a neck's tuning is written, open or pulled: as players write their charts. */
import {
  chromaOf,
  chromaOfName,
  noteName,
  pitchNamed,
  type Letter,
  type Midi,
  type NoteName,
  type Pitch,
} from '$lib/theory/pitch';
import type { Neck } from './setup';

const SHARPS: readonly (readonly [Letter, number])[] = [
  ['C', 0],
  ['C', 1],
  ['D', 0],
  ['D', 1],
  ['E', 0],
  ['F', 0],
  ['F', 1],
  ['G', 0],
  ['G', 1],
  ['A', 0],
  ['A', 1],
  ['B', 0],
];
const FLATS: readonly (readonly [Letter, number])[] = [
  ['C', 0],
  ['D', -1],
  ['D', 0],
  ['E', -1],
  ['E', 0],
  ['F', 0],
  ['G', -1],
  ['G', 0],
  ['A', -1],
  ['A', 0],
  ['B', -1],
  ['B', 0],
];

/**
 * As an open string of that note is written, else with a sharp, which is the custom of the trade (B
 * lowers to A♯); with a flat on a neck whose open strings have flats and no sharps.
 */
export function tuningPitch(neck: Neck | undefined, midi: Midi): Pitch {
  const open = neck?.strings.map((string): NoteName => string.open) ?? [];
  const own = open.find((name) => chromaOfName(name) === chromaOf(midi));
  if (own) return pitchNamed(own, midi);
  const flat = open.some(({ alter }) => alter < 0) && !open.some(({ alter }) => alter > 0);
  const [letter, alter] = (flat ? FLATS : SHARPS)[chromaOf(midi)] ?? ['C', 0];
  return pitchNamed(noteName(letter, alter), midi);
}
