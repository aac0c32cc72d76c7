/** A piece whose chords have got a melody: what stays of its form. */
import { describe, expect, it } from 'vitest';
import { inOrder } from '$lib/arrange/inOrder';
import { withMelody } from '$lib/arrange/melody';
import { isPitch } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { withNotesOf } from '$lib/arrange/withNotes';

const sung = (chords: string, melody: string) => {
  const { progression, piece } = readProgression(chords);
  if (piece === undefined) throw new Error('no piece');
  return withNotesOf(piece, progression, withMelody(progression, melody).progression);
};
const heard = (piece: ReturnType<typeof sung>) =>
  piece && inOrder(piece).notes.map(({ pitch }) => (isPitch(pitch) ? pitch.midi : -1));

describe('a melody on top of a piece with repeats', () => {
  it('leaves them where both passes have the same notes', () => {
    const piece = sung('|: C | F :| G | C', 'E4 | F4 | E4 | F4 | D4 | C4');
    expect(piece?.measures.map(({ repeats, times }) => [repeats, times])).toEqual([
      [true, undefined],
      [undefined, 2],
      [undefined, undefined],
      [undefined, undefined],
    ]);
    // E4 F4 E4 F4 D4 C4 in MIDI
    expect(heard(piece)).toEqual([64, 65, 64, 65, 62, 60]);
  });
  it('writes out the part where they have not, and no other', () => {
    const piece = sung('|: C :| |: F :|', 'E4 | G4 | F4 | F4');
    expect(piece?.measures).toHaveLength(3);
    expect(piece?.measures.at(-1)?.times).toBe(2);
    expect(heard(piece)).toEqual([64, 67, 65, 65]);
  });
});
