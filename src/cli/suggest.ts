/** `gripwright suggest`: every pull set of a station, ranked by what it adds; in parts if wanted. */
import { textInLetters } from '$lib/theory/typedText';
import type { Setup } from '$lib/setup/setup';
import {
  readSuggestion,
  readTogether,
  type SuggestPart,
  type SuggestTexts,
} from '$lib/answers/readSuggestion';
import { together, type TogetherQuestion } from '$lib/coverage/together';
import { NEAR_PERCENT } from '$lib/coverage/nearTies';
import { candidatesOn } from '$lib/setup/candidates';
import type { CandidateRange, SuggestQuestion, Suggestions } from '$lib/coverage/suggestion';
import { joinSuggestions } from '$lib/coverage/suggestionParts';
import { workingRanges } from '$lib/strings/strains';
import { wholeNumber, type MakeJob } from './job';
import { readFileText } from './files';
import { loadSetup } from './loadSetup';
import { repertoireOfSongs } from '$lib/coverage/songs';
import type { Repertoire } from '$lib/theory/repertoire';
import { loadSongs, withSongs, type SongOptions } from './songFiles';
import { ARRANGED, suggestBySongs } from './suggestSongs';
import { optionsRefused } from './options';
import { Refusal, numberText, print, printJson } from './out';
import { printPullRows } from './pullRows';
import { readSuggestions } from './suggestFile';
import { suggestWithThreads } from './suggestPool';
import { withQueue } from './queue/search';
import { serverUrl } from './queue/server';
import { areTogether, mergeTogether, suggestTogether } from './suggestTogether';
import { terminal } from './terminal';
import { pullText } from './pullText';
import { loadRepertoire } from './weighing';

interface SuggestOptions extends SongOptions {
  readonly arranged?: number;
  readonly setup: string;
  readonly json?: boolean;
  readonly repertoire?: string;
  readonly station?: string;
  readonly stations?: string;
  readonly state?: string;
  readonly queue?: string;
  readonly stringsUpTo?: string;
  readonly want?: string;
  readonly keep?: string;
  readonly must?: string;
  readonly never?: string;
  readonly neck?: string;
  readonly sizes?: string;
  readonly strain?: string;
  readonly range?: string;
  readonly merge?: readonly string[];
  readonly limit: number;
  readonly fold?: number;
}

/** Which option each part of the question is written with. */
const OPTIONS: Readonly<Record<SuggestPart, string>> = {
  station: '--station',
  upto: '--strings-up-to',
  want: '--want',
  keep: '--keep',
  must: '--must',
  never: '--never',
  neck: '--neck',
  sizes: '--sizes',
};

/** What both readers of questions are given. */
function texts(
  setup: Setup,
  options: SuggestOptions,
  repertoire = loadRepertoire(options.repertoire),
) {
  const { want, keep } = options;
  const texts: SuggestTexts = {
    ...options,
    upto: options.stringsUpTo,
    want: want && textInLetters('chords', want),
    keep: keep && textInLetters('chords', keep),
  };
  if (options.strain !== undefined && options.strain !== 'any')
    throw new Refusal(`--strain: found “${options.strain}”; allowed is any.`, 2);
  const ranges = options.strain === undefined ? workingRanges(setup) : [];
  return [setup, texts, repertoire, options.limit, ranges] as const;
}

function asked(setup: Setup, options: SuggestOptions, repertoire?: Repertoire): SuggestQuestion {
  const read = readSuggestion(...texts(setup, options, repertoire));
  if (read.ok) return read.value;
  throw optionsRefused(read.error, (part) => OPTIONS[part]);
}

function askedTogether(
  setup: Setup,
  options: SuggestOptions,
  repertoire?: Repertoire,
): TogetherQuestion {
  const read = readTogether(
    ...texts(setup, { ...options, station: options.stations ?? '' }, repertoire),
  );
  if (read.ok) return read.value;
  throw optionsRefused(read.error, (part) => (part === 'station' ? '--stations' : OPTIONS[part]));
}

function rangeOf(text: string | undefined, count: number, what = 'candidates'): CandidateRange {
  if (text === undefined) return [0, count - 1];
  const match = /^(\d{1,12})-(\d{1,12})$/.exec(text.trim());
  const [first, last] = [Number(match?.[1]), Number(match?.[2])];
  if (match === null || first > last)
    throw new Refusal(`--range: found “${text}”; allowed is a range such as 1000-1999.`, 2);
  if (first >= count)
    throw new Refusal(
      `--range: found “${text}”; there are ${numberText(count)} ${what}, 0 to ${count - 1}.`,
      1,
    );
  return [first, Math.min(last, count - 1)];
}

/** Says on the terminal how far it is; where nobody looks, nothing. */
function progress(many: number): (soFar: Suggestions) => void {
  if (!terminal().err.isTTY) return () => undefined;
  const started = performance.now();
  return ({ done }) => {
    const left = ((performance.now() - started) / done) * (many - done);
    const line = `${Math.floor((100 * done) / many)} % of ${numberText(many)} candidates, ${Math.ceil(left / 1000)} s left`;
    terminal().err.write(`\r${line.padEnd(60)}${done === many ? `\r${' '.repeat(60)}\r` : ''}`);
  };
}

function printTable(found: Suggestions, station: string, setup?: Setup): void {
  const { best, done, candidates } = found;
  print(
    `${numberText(done)} of ${numberText(candidates)} pull sets ${station === '' ? '' : `for ${station} `}tried, highest score first.\n`,
  );
  if (best.length === 0) {
    print('None of them adds anything.');
    return;
  }
  printPullRows(
    best.map((row) => ({ ...row, text: row.pulls.map(pullText).join(', ') })),
    setup,
  );
}

/** Results from files, joined: those of another question are refused. */
function merged(files: readonly string[]): Suggestions {
  const parts = files.map((file) => readSuggestions(file, readFileText(file)));
  const [first] = parts;
  if (first === undefined) throw new Refusal('--merge: no file is named.', 2);
  const other = parts.findIndex(({ question }) => question !== first.question);
  if (other >= 0)
    throw new Refusal(
      `${files[other] ?? ''} answers another question than ${files[0] ?? ''}; results are joined where setup and options are the same.`,
      1,
    );
  return joinSuggestions(parts);
}

const NOTHING = 'suggest: no string may be moved, so there is nothing to try.';

/** All pull sets of a question, or those of a range. */
async function searched(
  setup: Setup,
  question: SuggestQuestion,
  within?: string,
): Promise<Suggestions> {
  const { count } = candidatesOn(setup, question);
  if (count === 0) throw new Refusal(NOTHING, 1);
  const range = rangeOf(within, count);
  return suggestWithThreads({ setup, question }, range, progress(range[1] - range[0] + 1));
}

async function suggest(options: SuggestOptions): Promise<void> {
  for (const [option, given] of [
    ['--state', options.state],
    ['--queue', options.queue],
  ] as const)
    if (given !== undefined && options.stations === undefined)
      throw new Refusal(`${option}: it goes with --stations, a search that can take long.`, 2);
  if (options.stations !== undefined && options.station !== undefined)
    throw new Refusal('suggest: found --station and --stations; allowed is one of them.', 2);
  if (options.stations !== undefined && options.merge === undefined) {
    const setup = loadSetup(options.setup);
    const songs = options.songs === undefined ? [] : await loadSongs(options);
    const question =
      songs.length === 0
        ? askedTogether(setup, options)
        : askedTogether(
            setup,
            { ...options, limit: options.arranged ?? ARRANGED },
            repertoireOfSongs(songs),
          );
    const { units } = together(setup, question);
    if (options.fold !== undefined && options.fold > 100)
      throw new Refusal(`--fold: found ${options.fold}; allowed is 0 to 100.`, 1);
    if (units === 0) throw new Refusal(NOTHING, 1);
    const work = options.queue === undefined ? undefined : withQueue(serverUrl(options.queue));
    await suggestTogether(
      { setup, question },
      rangeOf(options.range, units, 'units'),
      options,
      work,
      songs,
    );
    return;
  }
  if (options.songs !== undefined && options.merge === undefined) {
    const setup = loadSetup(options.setup);
    await suggestBySongs(setup, options, {
      question: (repertoire, limit) => asked(setup, { ...options, limit }, repertoire),
      search: searched,
      pullText,
    });
    return;
  }
  if (options.merge !== undefined && areTogether(options.merge)) {
    mergeTogether(options.merge, options);
    return;
  }
  let found: Suggestions;
  let setup: Setup | undefined;
  if (options.merge !== undefined) {
    found = merged(options.merge);
  } else {
    setup = loadSetup(options.setup);
    found = await searched(setup, asked(setup, options), options.range);
  }
  if (options.json) printJson(found);
  else printTable(found, options.station ?? '', setup);
}

/** Adds the job `suggest`. */
export function addSuggest(job: MakeJob): void {
  withSongs(job('suggest', 'try every pull set for a station and rank them by what they add'))
    .option(
      '--station <station>',
      'a free station, or one whose control is to be replaced, or its id',
    )
    .option('--stations <stations>', 'two or three stations to be filled together, such as RKV,P4')
    .option('--strings-up-to <number>', 'how many strings each control may move, 1 to 3')
    .option(
      '--want <chords>',
      'count only these: "m7b5" chords as "Cm7b5", in one position as "F#m@3" with the bar at fret 3',
    )
    .option('--keep <chords>', 'chords that must not be lost, written in the same way')
    .option(
      '--repertoire <file>',
      'chord types and how much each is used; everyday ones by default',
    )
    .option(
      '--arranged <number>',
      `with --songs: how many of the best by chord types are arranged song by song, ${ARRANGED} where left out; 0 arranges all`,
      wholeNumber,
    )
    .option('--must <strings>', 'strings that it must move, such as 5 or 2.5 on a second neck')
    .option('--never <strings>', 'strings that it must not move')
    .option('--neck <number>', 'move strings of one neck only')
    .option('--strain <any>', 'any: try pulls too that break or slacken a string of known gauge')
    .option('--sizes <range>', 'how many strings are picked at once, such as 3-4 (2 to 6)')
    .option(
      '--range <range>',
      'only these candidates, counted from 0, such as 1000-1999; with --stations units of the search',
    )
    .option(
      '--state <file>',
      'keep what is found in a file while --stations goes on; the same call goes on from there',
    )
    .option(
      '--queue <url>',
      'let the workers on a Redis server do --stations: redis://HOST; see gripwright worker',
    )
    .option('--merge <files...>', 'join results of ranges that were printed with --json')
    .option(
      '--fold <percent>',
      `with --stations: tell choices once that bring nearly the same new chords and differ by so many hundredths of the score, ${NEAR_PERCENT} where left out; 0 tells each`,
      wholeNumber,
    )
    .option('--limit <number>', 'how many of the best to tell; 0 tells all', wholeNumber, 20)
    .action((options: SuggestOptions) => suggest(options));
}
