/** What songs as a measure ask, plain data in, plain data out. */
import { figuresWith, savedForSongs, type SavedForSongs } from '$lib/coverage/songPulls';
import type { SongFigures } from '$lib/coverage/songResults';
import { leversMore, repertoireOfSongs, songFigures, type Song } from '$lib/coverage/songs';
import { slantsByDefault } from '$lib/search/nutIndex';
import type { Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';

export { songBetween, songOnBoth } from '$lib/coverage/songs';
export type { SavedForSongs };

/** The chord types that songs are made of. */
export const songRepertoire = (songs: readonly Song[]): Repertoire => repertoireOfSongs(songs);

/** How a song stands on a setup. */
export const songNow = (setup: Setup, song: Song): SongFigures => songFigures(setup, song);

/** What a change does for some songs, of which is known how they stand before it. */
export function songsWith(
  before: Setup,
  after: Setup,
  songs: readonly Song[],
  now: readonly SongFigures[],
): SavedForSongs {
  // the bar is slanted after a change as it was before
  const slants = slantsByDefault(before);
  const more = leversMore(before, after);
  const figures = songs.map((song, at) =>
    more === undefined
      ? songFigures(after, song, slants)
      : figuresWith(after, song, slants, more, now[at] as SongFigures),
  );
  return savedForSongs(songs, now, figures);
}
