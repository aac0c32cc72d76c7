/**
 * One note of a setup has one name wherever it stands: copedent, tuning, bench sheet. The spellings of necks
 * are common practice, from memory: a lowered B is B♭, a neck in sharps is written in sharps.
 */
import { expect, it } from 'vitest';
import { prettyName, prettyPitch } from '$lib/theory/display';
import { chromaOf } from '$lib/theory/pitch';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { copedentOf } from '$lib/setup/copedent';
import { begun } from '$lib/setup/edits/start';
import type { Neck } from '$lib/setup/setup';
import { spelledBy } from '$lib/setup/spelledBy';
import { tuningPitch } from '$lib/setup/tuningPitch';

it.each(BUILT_IN_IDS.filter((id) => builtIn(id).controls.length > 0))(
  '%s: the copedent and the tuning write every pull alike',
  (id) => {
    const setup = builtIn(id);
    setup.necks.forEach((neck, index) => {
      for (const { cells } of copedentOf(setup, index + 1).rows)
        for (const cell of cells)
          for (const { pitch } of cell?.stops ?? [])
            expect(prettyPitch(tuningPitch(neck, pitch.midi))).toBe(prettyPitch(pitch));
    });
  },
);

const neckOf = (notes: string): Neck => {
  const made = begun(notes);
  if (!made.ok || made.value.necks[0] === undefined) throw new Error(`no neck of ${notes}`);
  return made.value.necks[0];
};
/** All twelve from C up, as a neck of these strings writes them. */
const twelve = (neck: Neck): string =>
  Array.from({ length: 12 }, (_, step) => prettyName(spelledBy(neck)(chromaOf(step)))).join(' ');

it('B lowered on an E9 neck is B♭', () => {
  // string 5 is B3, MIDI 59
  const [neck] = builtIn('e9').necks;
  expect(prettyPitch(tuningPitch(neck, 58))).toBe('B♭3');
});

it.each([
  // A6 and its G♯, the leading tone of A
  ['E4 C#4 A3 F#3 E3 C#3', 'C C♯ D D♯ E F F♯ G G♯ A B♭ B'],
  ['Eb4 C4 Ab3 F3 Eb3 C3', 'C D♭ D E♭ E F G♭ G A♭ A B♭ B'],
  ['G4 E4 C4 A3 G3 E3', 'C C♯ D E♭ E F F♯ G A♭ A B♭ B'],
])('a neck of %s writes its other notes on its own side', (notes, names) => {
  expect(twelve(neckOf(notes))).toBe(names);
});
