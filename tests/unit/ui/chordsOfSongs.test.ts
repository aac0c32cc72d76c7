/** What a tuning is fitted to, of a player's songs. */
import { expect, it } from 'vitest';
import { readProgression } from '$lib/arrange/readText';
import { chordsOfSongs } from '$lib/ui/songs/chordsOfSongs';

const song = (text: string, weight: number) => ({
  ...{ name: text, weight },
  progression: readProgression(text).progression,
});

it('has each chord once, those first that are played most, by what each song counts', () => {
  // A: 2, E: 1 + 1, D: 3 × 1
  expect(chordsOfSongs([song('A | E | A | E', 1), song('D', 3)])).toBe('D A E');
  expect(chordsOfSongs([])).toBe('');
});
