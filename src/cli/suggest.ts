/** `gripwright suggest`: every pull set of a station, ranked by what it adds; in parts if wanted. */
import { scoreOfPart } from '$lib/coverage/clarity';
import { typeName } from '$lib/theory/display';
import { signed } from '$lib/theory/signed';
import { textInLetters } from '$lib/theory/typedText';
import type { Setup } from '$lib/setup/setup';
import { exampleText } from '$lib/answers/exampleText';
import { readSuggestion, type SuggestPart, type SuggestTexts } from '$lib/answers/readSuggestion';
import { candidatesOn, type PlainPull } from '$lib/setup/candidates';
import {
  joinSuggestions,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';
import { headroomText } from '$lib/strings/warnings';
import { strainsOf, workingRanges } from '$lib/strings/strains';
import { wholeNumber, type MakeJob } from './job';
import { readFileText } from './files';
import { loadSetup } from './loadSetup';
import { optionsRefused } from './options';
import { Refusal, countText, inLines, numberText, print, printJson, table } from './out';
import { readSuggestions } from './suggestFile';
import { suggestWithThreads } from './suggestPool';
import { terminal } from './terminal';
import { loadRepertoire } from './weighing';

interface SuggestOptions {
  readonly setup: string;
  readonly json?: boolean;
  readonly repertoire?: string;
  readonly station?: string;
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

function asked(setup: Setup, options: SuggestOptions): SuggestQuestion {
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
  const read = readSuggestion(
    setup,
    texts,
    loadRepertoire(options.repertoire),
    options.limit,
    ranges,
  );
  if (read.ok) return read.value;
  throw optionsRefused(read.error, (part) => OPTIONS[part]);
}

function rangeOf(text: string | undefined, count: number): CandidateRange {
  if (text === undefined) return [0, count - 1];
  const match = /^(\d{1,12})-(\d{1,12})$/.exec(text.trim());
  const [first, last] = [Number(match?.[1]), Number(match?.[2])];
  if (match === null || first > last)
    throw new Refusal(`--range: found “${text}”; allowed is a range such as 1000-1999.`, 2);
  if (first >= count)
    throw new Refusal(
      `--range: found “${text}”; there are ${numberText(count)} candidates, 0 to ${count - 1}.`,
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

/** Of all its strings at the end of their raise: the one nearest to breaking. */
function leastHeadroom(setup: Setup, pulls: readonly PlainPull[]): string {
  const known = strainsOf(setup, pulls).flatMap(({ headroomSemitones }) =>
    headroomSemitones === undefined ? [] : [headroomSemitones],
  );
  return known.length === 0 ? '' : headroomText(Math.min(...known));
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
  const [heading = '', ...entries] = table(
    ['score', 'pulls', 'most of it'],
    best.map(({ score, gain: whole, pulls, byType }) => [
      score.toFixed(2),
      pulls.map(pullText).join(', '),
      byType
        .slice(0, 4)
        .map(({ type, gain }) => `${typeName(type)} ${scoreOfPart(gain, whole, score).toFixed(1)}`)
        .join(', '),
    ]),
    [0],
  ).split('\n');
  print(heading);
  // what is behind the score stands under the pulls
  const indent = heading.indexOf('pulls');
  best.forEach(({ pulls, opens, examples }, at) => {
    print(entries[at] ?? '');
    const [first, ...others] = examples.map((example) => {
      const { chords, held, strings } = exampleText(example, 0);
      return `${chords} ${strings}${held === '' ? '' : ` ${held}`}`;
    });
    if (first !== undefined) print(inLines([`to play: ${first}`, ...others], '; ', indent));
    const reach = [
      `${countText(opens.length, 'chord')} on new roots`,
      ...(setup === undefined
        ? []
        : [leastHeadroom(setup, pulls)].filter(Boolean).map((text) => `least headroom ${text}`)),
    ];
    print(inLines(reach, '; ', indent));
  });
}

const pullText = ({ neck, string, semitones }: PlainPull): string =>
  `${neck === 1 ? '' : `neck ${neck} `}${string} ${signed(semitones)}`;

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

async function suggest(options: SuggestOptions): Promise<void> {
  let found: Suggestions;
  let setup: Setup | undefined;
  if (options.merge !== undefined) {
    found = merged(options.merge);
  } else {
    setup = loadSetup(options.setup);
    const question = asked(setup, options);
    const { count } = candidatesOn(setup, question);
    if (count === 0)
      throw new Refusal('suggest: no string may be moved, so there is nothing to try.', 1);
    const range = rangeOf(options.range, count);
    const task = { setup, question };
    found = await suggestWithThreads(task, range, progress(range[1] - range[0] + 1));
  }
  if (options.json) printJson(found);
  else printTable(found, options.station ?? '', setup);
}

/** Adds the job `suggest`. */
export function addSuggest(job: MakeJob): void {
  job('suggest', 'try every pull set for a station and rank them by what they add')
    .option(
      '--station <station>',
      'a free station, or one whose control is to be replaced, or its id',
    )
    .option('--strings-up-to <number>', 'how many strings it may move, 1 to 3')
    .option(
      '--want <chords>',
      'count only these: "m7b5" chords as "Cm7b5", in one position as "F#m@3" with the bar at fret 3',
    )
    .option('--keep <chords>', 'chords that must not be lost, written in the same way')
    .option(
      '--repertoire <file>',
      'chord types and how much each is used; everyday ones by default',
    )
    .option('--must <strings>', 'strings that it must move, such as 5 or 2.5 on a second neck')
    .option('--never <strings>', 'strings that it must not move')
    .option('--neck <number>', 'move strings of one neck only')
    .option('--strain <any>', 'any: try pulls too that break or slacken a string of known gauge')
    .option('--sizes <range>', 'how many strings are picked at once, such as 3-4 (2 to 6)')
    .option('--range <range>', 'only these candidates, counted from 0, such as 1000-1999')
    .option('--merge <files...>', 'join results of ranges that were printed with --json')
    .option('--limit <number>', 'how many of the best to tell; 0 tells all', wholeNumber, 20)
    .action((options: SuggestOptions) => suggest(options));
}
