/** `gripwright propose`: pulls for a whole setup, from a neck to so many pedals and levers. */
import {
  joinProposals,
  MOST_LEVERS,
  MOST_PEDALS,
  scoreAgainst,
  stationsToFill,
  withOnly,
  type ProposalQuestion,
  type Proposals,
} from '$lib/coverage/proposal';
import { usualShapes } from '$lib/coverage/shapeOptions';
import { chordsIn, repertoireOfSongs } from '$lib/coverage/songs';
import { MOST_STRINGS } from '$lib/setup/candidates';
import { controlText } from '$lib/setup/controlText';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf, setupText } from '$lib/setup/writeSetup';
import { signed } from '$lib/theory/signed';
import { workingRanges } from '$lib/strings/strains';
import { writeOut } from './files';
import { wholeNumber, type MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { Refusal, countText, print, printJson, table } from './out';
import { loadSongs, withSongs, type SongOptions } from './songFiles';
import { BEFORE_AFTER, printSongs, songsJson } from './songs';
import { proposedForSongs, type ProposedForSongs } from './proposeSongs';
import { SongThreads } from './songsPool';
import type { SongTask } from './songTask';
import { terminal } from './terminal';
import { loadRepertoire } from './weighing';

interface ProposeOptions extends SongOptions {
  readonly setup: string;
  readonly json?: boolean;
  readonly repertoire?: string;
  readonly pedals?: number;
  readonly levers?: number;
  readonly keep?: string;
  readonly stringsUpTo: number;
  readonly starts: number;
  readonly seed: number;
  readonly strain?: string;
  readonly out?: string;
}

/** What the work of one start counts as, in chords that are arranged. */
const START_AS_CHORDS = 40;

function within(option: string, value: number, least: number, most: number): void {
  if (value < least || value > most)
    throw new Refusal(`${option}: found ${value}; allowed is ${least} to ${most}.`, 1);
}

/** The neck with what is to stay on it. */
function bareOf(setup: Setup, keep: string | undefined): Setup {
  const ids = keep === undefined ? [] : keep.split(',').map((id) => id.trim());
  const unknown = ids.find((id) => !setup.controls.some((control) => control.id === id));
  if (unknown !== undefined)
    throw new Refusal(
      `--keep: found “${unknown}”; the controls are ${setup.controls.map(({ id }) => id).join(', ') || 'none'}.`,
      1,
    );
  return withOnly(setup, ids);
}

/** A proposal; what the songs have of it where there are any. */
interface Told {
  readonly setup: Setup;
  readonly score: number;
  /** How many starts came to it. */
  readonly starts: number;
  readonly bySongs?: ProposedForSongs;
}

/** Says on the terminal what is best so far; where nobody looks, nothing. */
function tellStarts(many: number): (done: number, answers: readonly { score: number }[]) => void {
  if (!terminal().err.isTTY) return () => undefined;
  return (done, answers) => {
    const best = Math.max(...answers.map(({ score }) => score));
    const line = `${done} of ${countText(many, 'start')} done; the best score so far ${best.toFixed(1)}`;
    terminal().err.write(`\r${line.padEnd(70)}${done === many ? `\r${' '.repeat(70)}\r` : ''}`);
  };
}

async function propose(options: ProposeOptions): Promise<void> {
  const today = loadSetup(options.setup);
  const { pedals = 3, levers = 4, starts, seed, stringsUpTo } = options;
  within('--pedals', pedals, 0, MOST_PEDALS);
  within('--levers', levers, 0, MOST_LEVERS);
  within('--starts', starts, 1, 1000);
  within('--strings-up-to', stringsUpTo, 1, MOST_STRINGS);
  if (options.strain !== undefined && options.strain !== 'any')
    throw new Refusal(`--strain: found “${options.strain}”; allowed is any.`, 2);
  const bare = bareOf(today, options.keep);
  const stations = stationsToFill(bare, pedals, levers);
  if (stations.length === 0)
    throw new Refusal(
      'propose: what is kept has as many pedals and levers as are asked for; nothing is left to propose.',
      1,
    );
  const songs = options.songs === undefined ? [] : await loadSongs(options);
  const wishes = songs.length > 0 ? repertoireOfSongs(songs) : loadRepertoire(options.repertoire);
  const question: ProposalQuestion = {
    ...{ stations, stringsUpTo, wishes, seed, must: [], never: [] },
    ...usualShapes(today),
    ranges: options.strain === undefined ? workingRanges(today) : [],
  };
  const threads = new SongThreads(chordsIn(songs) + START_AS_CHORDS * starts);
  try {
    const tasks = Array.from(
      { length: starts },
      (_, start) => ({ how: 'propose', bare, question, start }) satisfies SongTask,
    );
    const found = joinProposals(await threads.answer(tasks, tellStarts(starts)));
    let [best]: readonly (Told | undefined)[] = found.best;
    if (songs.length > 0) {
      const bySongs = await proposedForSongs(threads, today, question, found, songs);
      const { setup, starts } = bySongs;
      best = { setup, starts, score: scoreAgainst(bare, setup, question), bySongs };
    }
    if (best === undefined) throw new Error('no start came to anything');
    await tell(options, { today, bare, question, found, best });
  } finally {
    await threads.end();
  }
}

interface Answer {
  readonly today: Setup;
  readonly bare: Setup;
  readonly question: ProposalQuestion;
  readonly found: Proposals;
  readonly best: Told;
}

async function tell(
  options: ProposeOptions,
  { today, bare, question, found, best }: Answer,
): Promise<void> {
  const setup = { ...best.setup, name: `${today.name}, proposed` };
  const ofToday =
    today.controls.length > bare.controls.length ? scoreAgainst(bare, today, question) : undefined;
  if (options.out !== undefined)
    await writeOut(options.out, new TextEncoder().encode(setupText(setup)));
  const { spread } = found;
  const { bySongs } = best;
  if (options.json) {
    printJson({
      exact: false,
      starts: options.starts,
      seed: options.seed,
      spread,
      score: best.score,
      today: ofToday === undefined ? null : { score: ofToday },
      controls: setup.controls.map((control) => controlText(control)),
      ...(bySongs === undefined
        ? {}
        : {
            songs: songsJson(bySongs.songs, BEFORE_AFTER),
            savedByStarts: bySongs.spread,
            exchangedBySongs: bySongs.exchanged,
          }),
      setup: setupFileOf(setup),
    });
    return;
  }
  print(
    `The best of ${countText(options.starts, 'start')}, station by station with exchange: not every setup was tried, and a better one is possible.`,
  );
  print(
    `Scores of the starts: ${spread.most.toFixed(1)} at most, ${spread.median.toFixed(1)} the median, ${spread.least.toFixed(1)} at least; ${countText(best.starts, 'start')} came to this one, score ${best.score.toFixed(1)}.${ofToday === undefined ? '' : ` “${today.name}” as it is: ${ofToday.toFixed(1)} by the same measure.`}\n`,
  );
  print(
    table(
      ['control', 'station', 'pulls', ''],
      setup.controls.map((control) => [
        control.id,
        control.station,
        controlText(control).replace(/^\w+:/, '').replaceAll(',', ', '),
        bare.controls.some(({ id }) => id === control.id) ? 'kept' : '',
      ]),
    ),
  );
  print('');
  if (bySongs !== undefined) {
    const { most, median, least } = bySongs.spread;
    print(
      `The songs were arranged on what every start came to: ${signed(most, 2)} saved at most, ${signed(median, 2)} the median, ${signed(least, 2)} at least${bySongs.exchanged === 0 ? '' : `; in the best, ${countText(bySongs.exchanged, 'exchange')} of a control by the songs saved more`}.\n`,
    );
    printSongs(bySongs.songs, BEFORE_AFTER);
  }
  if (options.out !== undefined) print(`${options.out}: a setup file.`);
}

/** Adds the job `propose`. */
export function addPropose(job: MakeJob): void {
  withSongs(
    job('propose', 'find pulls for a whole setup, from a neck to so many pedals and levers'),
  )
    .option('--pedals <number>', 'how many pedals in all, 3 where left out', wholeNumber)
    .option('--levers <number>', 'how many levers in all, 4 where left out', wholeNumber)
    .option('--keep <ids>', 'controls of the setup that stay as they are, such as A,B')
    .option(
      '--repertoire <file>',
      'chord types and how much each is used; everyday ones by default, those of the songs with --songs',
    )
    .option('--strings-up-to <number>', 'how many strings each may move, 1 to 3', wholeNumber, 2)
    .option('--starts <number>', 'from how many starts it is tried', wholeNumber, 20)
    .option('--seed <number>', 'another number makes other starts', wholeNumber, 1)
    .option('--strain <any>', 'any: try pulls too that break or slacken a string of known gauge')
    .option('--out <file>', 'write the proposal to a setup file')
    .action((options: ProposeOptions) => propose(options));
}
