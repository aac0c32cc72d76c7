/** What may stand under each key of a setup file, in words: for keys that are missing or wrong. */
import { BOUNDS, FORMAT } from './setupFile';

const whole = ([least, most]: readonly [number, number]): string =>
  `a whole number from ${least} to ${most}`;
const real = ([least, most]: readonly [number, number]): string =>
  `a number from ${least} to ${most}`;
const text = ([least, most]: readonly [number, number]): string =>
  `text of ${least} to ${most} characters`;
const list = ([least, most]: readonly [number, number], of: string): string =>
  `a list of ${least} to ${most} ${of}`;

export const A_PITCH = 'a pitch from C0 to C8, such as F#4 or Bb2';

const ALLOWED: Readonly<Record<string, string>> = {
  format: `${FORMAT}, the number of this file format`,
  name: text(BOUNDS.name),
  notes: text(BOUNDS.notes),
  frets: whole(BOUNDS.frets),
  scaleLengthMm: `${real(BOUNDS.scaleLengthMm)}, in millimetres`,
  deadLengthMm: `${real(BOUNDS.deadLengthMm)}, in millimetres`,
  referenceHz: `${real(BOUNDS.referenceHz)}, the pitch of A4 in hertz`,
  reach: 'an object with pedalsAtOnce, kneeUpWithSideways, never and also',
  pedalsAtOnce: whole(BOUNDS.pedalsAtOnce),
  kneeUpWithSideways: 'true or false',
  never: list(BOUNDS.exceptions, 'combinations'),
  'never[]': list(BOUNDS.never, 'control ids'),
  'never[][]': 'the id of a control',
  also: list(BOUNDS.exceptions, 'combinations'),
  'also[]': list(BOUNDS.also, 'control ids'),
  'also[][]': 'the id of a control',
  necks: list(BOUNDS.necks, 'necks'),
  strings: list(BOUNDS.strings, 'strings'),
  open: A_PITCH,
  gauge: `${real(BOUNDS.gauge)}, a diameter in inches`,
  coreGauge: `${real(BOUNDS.gauge)}, a diameter in inches`,
  wound: 'true or false',
  cents: `${real(BOUNDS.cents)}, in cents`,
  controls: list(BOUNDS.controls, 'controls'),
  id: text(BOUNDS.id),
  station: 'one of P1 to P12, LKL, LKV, LKR, RKL, RKV, RKR',
  pulls: list(BOUNDS.pulls, 'pulls'),
  neck: whole(BOUNDS.necks),
  string: whole(BOUNDS.strings),
  semitones: `${whole(BOUNDS.semitones)}, not 0`,
  halfCents: `${real(BOUNDS.cents)}, in cents`,
  leverage: `${real(BOUNDS.leverage)}, millimetres of rod for each millimetre of string`,
  travelMm: `${real(BOUNDS.travelMm)}, in millimetres`,
  drops: list(BOUNDS.drops, 'drops'),
  half: `${whole(BOUNDS.semitones)}, not 0`,
};

/** The sentence for the place at a path; most entries of lists are objects. */
export function allowedAt(path: string): string {
  const place = path.slice(path.lastIndexOf('.') + 1).replace(/\[\d+\]/g, '[]');
  return ALLOWED[place] ?? 'an object';
}
