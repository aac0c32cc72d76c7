/** `gripwright suggest --songs`: pull sets by what they do for songs, the best so far told while it goes on. */
import {
  bestForSongs,
  savedForSongs,
  type PullsForSongs,
  type SavedForSongs,
} from '$lib/coverage/songPulls';
import type { SongFigures } from '$lib/coverage/songResults';
import { chordsIn, repertoireOfSongs, type Song } from '$lib/coverage/songs';
import type { SuggestQuestion, Suggested, Suggestions } from '$lib/coverage/suggestion';
import { slantsByDefault } from '$lib/search/nutIndex';
import { withControl } from '$lib/setup/proposal';
import { isPedal, type Control, type Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';
import { Refusal, countText, numberText, print, printJson } from './out';
import { printNow, printSaved, songsNow } from './savedTable';
import { loadSongs, type SongOptions } from './songFiles';
import { SongThreads } from './songsPool';
import type { SongTask } from './songTask';
import { terminal } from './terminal';

/** How many pull sets are arranged where nothing is said. */
export const ARRANGED = 24;

export interface SuggestSongOptions extends SongOptions {
  readonly json?: boolean;
  readonly limit: number;
  readonly arranged?: number;
  readonly range?: string;
}

/** What the search by chord types is asked with, and how it is run. */
interface ByTypes {
  readonly question: (repertoire: Repertoire, limit: number) => SuggestQuestion;
  readonly search: (setup: Setup, question: SuggestQuestion) => Promise<Suggestions>;
  readonly pullText: (pull: Suggested['pulls'][number]) => string;
}

type FiguresTask = Extract<SongTask, { how: 'figures' }>;

/** Pull sets of one station, measured by songs. */
export async function suggestBySongs(
  setup: Setup,
  options: SuggestSongOptions,
  { question: questionFor, search, pullText }: ByTypes,
): Promise<void> {
  if (options.range !== undefined)
    throw new Refusal(
      'suggest: --songs goes through the whole range; --range has no place there.',
      2,
    );
  const songs = await loadSongs(options);
  const question = questionFor(repertoireOfSongs(songs), options.arranged ?? ARRANGED);
  const weighed = await search(setup, question);
  const threads = new SongThreads(chordsIn(songs) * (1 + weighed.best.length));
  try {
    const before = await figuresNow(threads, setup, songs);
    const withSavings = (saved: readonly SavedForSongs[]): PullsForSongs[] =>
      saved.map((each, at) => {
        const { candidate, pulls, score } = weighed.best[at] as Suggested;
        return { candidate, pulls, score, ...each };
      });
    const progress = tellBest(weighed.best.length);
    const { control } = question;
    const tried = weighed.best.map(({ pulls }) => ({
      after: withControl(setup, { ...control, pulls }),
      controls: [control],
    }));
    const found = withSavings(
      await arrangedOnEach(threads, setup, songs, before, tried, (soFar) => {
        progress(withSavings(soFar));
      }),
    );
    const best = bestForSongs(found).slice(0, options.limit === 0 ? found.length : options.limit);
    if (options.json) printJson(jsonOf(songs, before, weighed, found.length, best));
    else printBest(songs, before, weighed, found.length, best, pullText);
  } finally {
    await threads.end();
  }
}

/** A setup as it would be with pulls for some stations. */
export interface Tried {
  readonly after: Setup;
  readonly controls: readonly Pick<Control, 'id' | 'station'>[];
}

/** Arranges every song on every one of some setups as they would be, in their order. */
export async function arrangedOnEach(
  threads: SongThreads,
  setup: Setup,
  songs: readonly Song[],
  before: readonly SongFigures[],
  tried: readonly Tried[],
  ondone: (found: readonly SavedForSongs[]) => void,
): Promise<SavedForSongs[]> {
  const slants = slantsByDefault(setup);
  const found: SavedForSongs[] = [];
  // a few at a time, so that every thread has something to do and the best so far can be told
  const AT_ONCE = 2;
  for (let from = 0; from < tried.length; from += AT_ONCE) {
    const these = tried.slice(from, from + AT_ONCE);
    const figures = await threads.answer(
      these.flatMap(({ after, controls }) => {
        // a pedal more moves the middle of the pedal bar, and with it what the others cost
        const isFree = controls.every(
          ({ station }) =>
            !isPedal(station) && !setup.controls.some((each) => each.station === station),
        );
        const ids = controls.map(({ id }) => id);
        return songs.map((song, at): FiguresTask => ({
          ...{ how: 'figures', setup: after, song, slants },
          ...(isFree ? { added: { controls: ids, before: before[at] as SongFigures } } : {}),
        }));
      }),
    );
    these.forEach((_, at) => {
      const own = figures.slice(at * songs.length, (at + 1) * songs.length);
      found.push(savedForSongs(songs, before, own));
    });
    ondone(found);
  }
  return found;
}

/** The figures of every song on the setup as it is. */
export const figuresNow = (
  threads: SongThreads,
  setup: Setup,
  songs: readonly Song[],
): Promise<SongFigures[]> =>
  threads.answer(
    songs.map((song): FiguresTask => ({
      ...{ how: 'figures', setup, song, slants: slantsByDefault(setup) },
    })),
  );

/** Says on the terminal what is best so far; where nobody looks, nothing. */
function tellBest(many: number): (found: readonly PullsForSongs[]) => void {
  if (!terminal().err.isTTY) return () => undefined;
  return (found) => {
    const [best] = bestForSongs(found);
    const line = `${found.length} of ${countText(many, 'pull set')} arranged; the best so far ${best === undefined ? '' : doesText(best)}`;
    const isEnd = found.length === many;
    terminal().err.write(`\r${line.padEnd(78)}${isEnd ? `\r${' '.repeat(78)}\r` : ''}`);
  };
}

const doesText = ({ opened, saved }: PullsForSongs): string =>
  `${opened === 0 ? '' : `makes ${opened} playable, `}saves ${saved.toFixed(2)}`;

const jsonOf = (
  songs: readonly Song[],
  before: readonly SongFigures[],
  { candidates, done }: Suggestions,
  arranged: number,
  best: readonly PullsForSongs[],
) => ({
  candidates,
  done,
  arranged,
  ...songsNow(songs, before),
  best,
});

function printBest(
  songs: readonly Song[],
  before: readonly SongFigures[],
  { done }: Suggestions,
  arranged: number,
  best: readonly PullsForSongs[],
  pullText: ByTypes['pullText'],
): void {
  const all = arranged === done;
  print(
    `${numberText(done)} pull sets weighed by the chord types of ${countText(songs.length, 'song')}; ${all ? 'all' : `the best ${arranged}`} of them arranged song by song${all ? '' : ', the others not'}.`,
  );
  printNow(songs, before);
  if (best.length === 0) {
    print('None of them adds anything.');
    return;
  }
  printSaved(best.map((each) => ({ ...each, text: each.pulls.map(pullText).join(', ') })));
}
