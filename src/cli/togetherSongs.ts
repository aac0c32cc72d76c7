/** `gripwright suggest --stations --songs`: the best choices by chord types, arranged song by song. */
import type { FoundTogether, ToldTogether } from '$lib/coverage/foundTogether';
import { byUseForSongs, type SavedForSongs } from '$lib/coverage/songPulls';
import { chordsIn, type Song } from '$lib/coverage/songs';
import type { Place } from '$lib/coverage/pairGround';
import { withControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { signed } from '$lib/theory/signed';
import { countText, numberText, print, printJson, table } from './out';
import { SongThreads } from './songsPool';
import { arrangedOnEach, figuresNow, songBySongText } from './suggestSongs';
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
): Promise<Row[]> {
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
    return told
      .map((each, at) => ({ ...each, ...(saved[at] as SavedForSongs) }))
      .sort(byUseForSongs);
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
  const rows = await arranged(setup, places, songs, told.slice(0, found.best.length));
  const best = limit === 0 ? rows : rows.slice(0, limit);
  const { candidates, done, left } = found;
  if (json === true) {
    printJson({
      ...{ candidates, done, arranged: rows.length },
      ...(left === undefined ? {} : { left }),
      best,
    });
    return;
  }
  print(
    `${numberText(done)} of ${numberText(candidates)} choices looked at by the chord types of ${countText(songs.length, 'song')}; the best ${rows.length} of them arranged song by song.\n`,
  );
  if (left !== undefined)
    print(`Nothing that is left scores above ${left.toFixed(2)} by the chord types.\n`);
  const [first] = best;
  if (first === undefined) {
    print('No pulls for all of these stations add anything.');
    return;
  }
  print(
    table(
      ['saved', 'pulls', 'song by song'],
      best.map((each) => [
        signed(each.saved, 2),
        controlsText(each.controls),
        songBySongText(each),
      ]),
      [0],
    ),
  );
  printGoOn(first.controls, name);
}
