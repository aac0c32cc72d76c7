/** The note that a further string begins with: never one that the neck has, and one that goes with it. */
import { chromaOf, type Midi, type Pitch } from '$lib/theory/pitch';
import { openMidi, type Neck } from '../setup';
import { BOUNDS } from '../bounds';
import { tuningPitch } from '../tuningPitch';

/** All whole pitches from one to another, both among them, upwards or downwards. */
const run = (from: Midi, to: Midi): Midi[] =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, step) => from + Math.sign(to - from) * step);

/**
 * The open note of a string added before string `at` (behind the last where `at` is one more).
 *
 * - Behind the last string the tuning goes on downwards: the next lower of its own notes, in whatever
 *   octave they stand. C6 of six strings, down to C3, goes on with A2, as that of eight does; E9 after
 *   B2 with G♯2.
 * - Before the first it goes on upwards in the same way.
 * - Between two strings it is one of the tuning's own notes between theirs, the highest; where there is
 *   none, the note midway, the upper of two.
 * - A note that some string of the neck has already is passed over. Where no note is left between, the
 *   tuning goes on as behind its last string, and upwards where that would be below C0.
 */
export function nextOpen(neck: Neck, at: number): Pitch {
  const open = openMidi(neck);
  const [lowest, highest] = BOUNDS.openMidi;
  const free = (midi: Midi): boolean => !open.includes(midi) && midi >= lowest && midi <= highest;
  const own = (midi: Midi): boolean => open.some((each) => chromaOf(each) === chromaOf(midi));
  const down = run(Math.min(...open), lowest).filter(free);
  const up = run(Math.max(...open), highest).filter(free);
  const [before, after] = [open[at - 2], open[at - 1]];
  const between =
    before === undefined || after === undefined
      ? []
      : run(Math.max(before, after), Math.min(before, after)).filter(free);
  const middle = ((before ?? 0) + (after ?? 0)) / 2;
  const midway = [...between].sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle) || b - a);
  const outward = before === undefined ? [up, down] : [down, up];
  const midi =
    between.find(own) ??
    midway[0] ??
    outward.map((notes) => notes.find(own)).find((note) => note !== undefined) ??
    outward.flat()[0];
  // 97 pitches are more than a neck has strings
  if (midi === undefined) throw new Error(`no pitch is left beside ${open.join(', ')}`);
  return tuningPitch(neck, midi);
}
