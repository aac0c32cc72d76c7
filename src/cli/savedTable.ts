/** Pulls that were arranged song by song: what the songs take as it is, what each saves, and what becomes of the songs. */
import type { SavedForSongs } from '$lib/coverage/songPulls';
import type { SongFigures } from '$lib/coverage/songResults';
import type { Song } from '$lib/coverage/songs';
import { PER_UNIT } from '$lib/effort/effort';
import { signed } from '$lib/theory/signed';
import { countText, print, table } from './out';

/** The songs as it is, in their order, and what those that can be played take together. */
export function songsNow(songs: readonly Song[], before: readonly SongFigures[]) {
  let sum = 0;
  const told = songs.map(({ name, weight }, at) => {
    const { missing, cost } = before[at] as SongFigures;
    if (missing === 0) sum += weight * cost;
    return { name, weight, effort: missing > 0 ? null : cost / PER_UNIT, missing };
  });
  return { songs: told, effort: Math.round(sum) / PER_UNIT };
}

/** Prints what they take, and how many cannot be played. */
export function printNow(all: readonly Song[], before: readonly SongFigures[]): void {
  const { songs, effort } = songsNow(all, before);
  const out = songs.filter(({ missing }) => missing > 0).length;
  print(
    `Effort now ${effort.toFixed(2)}${out === 0 ? '' : `; ${countText(out, 'song')} cannot be played`}.\n`,
  );
}

/** What becomes of songs, the most first: `▴ waltz can be played now, blues +1.20`. */
const songBySongText = ({ songs }: SavedForSongs): string =>
  [
    ...songs
      .filter(({ kind }) => kind === 'opened')
      .map(({ name }) => `▴ ${name} can be played now`),
    ...songs
      .filter(({ kind }) => kind === 'closed')
      .map(({ name }) => `▾ ${name} cannot be played any more`),
    ...songs
      .filter(({ saved }) => saved !== null && saved !== 0)
      .sort((a, b) => Math.abs(b.saved ?? 0) - Math.abs(a.saved ?? 0))
      .slice(0, 3)
      .map(({ name, saved }) => `${name} ${signed(saved ?? 0, 2)}`),
  ].join(', ') || 'nothing changes';

/** Prints them, in their order; `text` is the pulls as they are told. */
export function printSaved(rows: readonly (SavedForSongs & { readonly text: string })[]): void {
  print(
    table(
      ['saved', 'pulls', 'song by song'],
      rows.map((each) => [signed(each.saved, 2), each.text, songBySongText(each)]),
      [0],
    ),
  );
}
