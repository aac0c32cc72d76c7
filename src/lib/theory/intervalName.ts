/** Names of intervals in words. */
import type { Midi } from './pitch';

const SIMPLE = [
  'unison',
  'minor second',
  'major second',
  'minor third',
  'major third',
  'perfect fourth',
  'tritone',
  'perfect fifth',
  'minor sixth',
  'major sixth',
  'minor seventh',
  'major seventh',
  'octave',
  'minor ninth',
  'major ninth',
  'minor tenth',
  'major tenth',
  'perfect eleventh',
  'octave and a tritone',
  'perfect twelfth',
  'minor thirteenth',
  'major thirteenth',
  'minor fourteenth',
  'major fourteenth',
  'two octaves',
] as const;

const COUNTS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
];

/**
 * The interval between two pitches, in either order: `major third`, `minor tenth`; beyond two
 * octaves `two octaves and a minor third`. The six semitones are a tritone however they are spelled.
 */
export function intervalName(low: Midi, high: Midi): string {
  const semitones = Math.abs(high - low);
  const simple = SIMPLE[semitones];
  if (simple) return simple;
  const count = Math.floor(semitones / 12);
  const octaves = `${COUNTS[count] ?? String(count)} octaves`;
  const rest = semitones - 12 * count;
  return rest === 0 ? octaves : `${octaves} and a ${SIMPLE[rest] ?? ''}`;
}
