/** The chords of the player's songs, as a tuning is fitted to them. */
import { stepsOf } from '$lib/arrange/progression';
import { MOST_TO_TUNE } from '$lib/ui/arrange/address';
import type { Song } from '$lib/coverage/songs';

/** The symbols that the songs have most often, each counted as its song counts, with spaces between. */
export function chordsOfSongs(songs: readonly Song[]): string {
  const uses = new Map<string, number>();
  for (const { progression, weight } of songs)
    for (const { chord } of stepsOf(progression))
      if (chord !== 'no chord') uses.set(chord.symbol, (uses.get(chord.symbol) ?? 0) + weight);
  return [...uses]
    .sort(([, a], [, b]) => b - a)
    .slice(0, MOST_TO_TUNE)
    .map(([symbol]) => symbol)
    .join(' ');
}
