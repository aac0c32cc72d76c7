import { expect, it } from 'vitest';
import { readKey } from '$lib/theory/spelling';
import { chordsOfKey } from '$lib/theory/keyChords';

function chordsIn(text: string, kind: string): string {
  const key = readKey(text);
  if (!key.ok) throw new Error(text);
  return chordsOfKey(key.value)
    .filter((each) => each.kind === kind)
    .map(({ chord }) => chord.symbol)
    .join(' ');
}

// harmony of the common practice, as every textbook has it
it('a major key has its triads, sevenths and secondary dominants', () => {
  expect(chordsIn('C', 'triad')).toBe('C Dm Em F G Am Bdim');
  expect(chordsIn('C', 'seventh')).toBe('Cmaj7 Dm7 Em7 Fmaj7 G7 Am7 Bm7b5');
  expect(chordsIn('C', 'secondary')).toBe('A7 B7 C7 D7 E7');
});

it('a minor key has them with and without the raised leading note', () => {
  expect(chordsIn('Am', 'triad')).toBe('Am Bdim C Dm Em E F G G#dim');
  expect(chordsIn('Am', 'seventh')).toBe('Am7 Bm7b5 Cmaj7 Dm7 E7 Fmaj7 G7 G#dim7');
  expect(chordsIn('Am', 'secondary')).toBe('A7 B7 C7 D7');
});

it('they are spelled as the key spells them', () => {
  expect(chordsIn('Eb', 'triad')).toBe('Eb Fm Gm Ab Bb Cm Ddim');
  expect(chordsIn('F#', 'seventh')).toBe('F#maj7 G#m7 A#m7 Bmaj7 C#7 D#m7 E#m7b5');
});
