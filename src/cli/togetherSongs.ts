/** `gripwright suggest --stations --songs`: the best choices by chord types, arranged song by song. */
import type { FoundTogether, ToldTogether } from '$lib/coverage/foundTogether';
import { byUseForSongs, type SavedForSongs } from '$lib/coverage/songPulls';
import type { SongFigures } from '$lib/coverage/songResults';
import { chordsIn, type Song } from '$lib/coverage/songs';
import type { Place } from '$lib/coverage/pairGround';
import { withControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { countText, numberText, print, printJson } from './out';
import { printNow, printSaved, songsNow } from './savedTable';
import { SongThreads } from './songsPool';
import { arrangedOnEach, figuresNow } from './suggestSongs';
import { controlsText, printGoOn } from './togetherPrint';

interface Options {
  readonly json?: boolean;
  readonly limit: number;
  readonly setup: string;
}

type Row = ToldTogether & SavedForSongs;

/** The best by chord types, in the order of what they do for the songs. */
async function arranged(
  setup: Setup,
  places: readonly Place[],
  songs: readonly Song[],
  told: readonly ToldTogether[],
): Promise<{ rows: Row[]; before: readonly SongFigures[] }> {
  const threads = new SongThreads(chordsIn(songs) * (1 + told.length));
  try {
    const before = await figuresNow(threads, setup, songs);
    const tried = told.map(({ controls }) => ({
      after: controls.reduce((all, { station, pulls }) => {
        const id = places.find((place) => place.station === station)?.id ?? station;
        return withControl(all, { id, station, pulls });
      }, setup),
      controls: places,
    }));
    const saved = await arrangedOnEach(threads, setup, songs, before, tried, () => undefined);
    const rows = told
      .map((each, at) => ({ ...each, ...(saved[at] as SavedForSongs) }))
      .sort(byUseForSongs);
    return { rows, before };
  } finally {
    await threads.end();
  }
}

/** Arranges the songs with each of the best, and prints these by what they save. */
export async function togetherBySongs(
  setup: Setup,
  places: readonly Place[],
  songs: readonly Song[],
  found: FoundTogether,
  told: readonly ToldTogether[],
  { json, limit, setup: name }: Options,
): Promise<void> {
  const { rows, before } = await arranged(setup, places, songs, told.slice(0, found.best.length));
  const best = limit === 0 ? rows : rows.slice(0, limit);
  const { candidates, done, left } = found;
  if (json === true) {
    printJson({
      ...{ candidates, done, arranged: rows.length },
      ...(left === undefined ? {} : { left }),
      ...songsNow(songs, before),
      best,
    });
    return;
  }
  print(
    `${numberText(done)} of ${numberText(candidates)} choices looked at by the chord types of ${countText(songs.length, 'song')}; the best ${rows.length} of them arranged song by song.`,
  );
  printNow(songs, before);
  if (left !== undefined)
    print(`Nothing that is left scores above ${left.toFixed(2)} by the chord types.\n`);
  const [first] = best;
  if (first === undefined) {
    print('No pulls for all of these stations add anything.');
    return;
  }
  printSaved(best.map((each) => ({ ...each, text: controlsText(each.controls) })));
  printGoOn(first.controls, name);
}
