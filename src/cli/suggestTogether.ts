/** `gripwright suggest --stations`: pull sets for two or three stations together. */
import { joinTogether, type FoundTogether, type ToldTogether } from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { foldNear, NEAR_PERCENT } from '$lib/coverage/nearTies';
import type { Song } from '$lib/coverage/songs';
import { together } from '$lib/coverage/together';
import { readFileText } from './files';
import { Refusal, numberText, printJson, say } from './out';
import { terminal } from './terminal';
import { readPrinted, readState, writeState, type Printed } from './togetherFile';
import { printTogether } from './togetherPrint';
import { togetherBySongs } from './togetherSongs';
import { togetherWithThreads, type TogetherTask } from './togetherPool';
import { VERSION } from './version';

export interface TogetherOptions {
  readonly json?: boolean;
  readonly state?: string;
  /** Hundredths of the score by which choices that do the same may differ and be told once. */
  readonly fold?: number;
  readonly limit: number;
  /** As it is called at the prompt. */
  readonly setup: string;
}

/** Milliseconds between two states that are written. */
const WRITTEN_EVERY = 2000;

/** What a search prints: the numbers that results are joined by, and everything that is told. */
function printedOf(found: FoundTogether, told: readonly ToldTogether[], fold: number): Printed {
  const { best, frontier, counts, left, ...rest } = found;
  const { weighed, gain, ...skipped } = counts;
  const rows = [...best, ...frontier].map(({ picks, sum }, at) => ({
    ...(told[at] as ToldTogether),
    picks,
    sum,
  }));
  return {
    ...rest,
    skipped,
    weighed,
    gainTooSmall: gain,
    ...(left === undefined ? {} : { left }),
    fold,
    best: foldNear(rows.slice(0, best.length), fold).map(({ row, near }) => ({ ...row, near })),
    frontier: rows.slice(best.length),
  };
}

const foldOf = ({ fold }: Pick<TogetherOptions, 'fold'>): number => fold ?? NEAR_PERCENT;

/** How far it is, with the best so far and the bound on what is left, for who looks on. */
function progressLine(soFar: FoundTogether, many: number, seconds: number): string {
  const share = soFar.done / many;
  const best = soFar.best[0]?.score;
  return [
    `${Math.floor(100 * share)} % of ${numberText(many)}`,
    ...(best === undefined ? [] : [`best ${best.toFixed(2)}`]),
    ...(soFar.left === undefined ? [] : [`nothing left above ${soFar.left.toFixed(0)}`]),
    `${Math.ceil((seconds / Math.max(share, 1e-9)) * (1 - share))} s left`,
  ].join(', ');
}

/** Searches, keeps the state, prints; Ctrl-C ends it with the best so far. */
export async function suggestTogether(
  task: TogetherTask,
  range: CandidateRange,
  options: TogetherOptions,
  work: typeof togetherWithThreads = togetherWithThreads,
  songs: readonly Song[] = [],
): Promise<void> {
  const search = together(task.setup, task.question);
  const { state } = options;
  const before = state === undefined ? undefined : readState(state, search.question, VERSION);
  const { err } = terminal();
  const began = performance.now();
  let written = -Infinity;
  let unkept: Refusal | undefined;
  /** A full disk takes nothing from the search, nor from what was kept before. */
  const keep = (file: string, found: FoundTogether): void => {
    try {
      writeState(file, found, VERSION);
      unkept = undefined;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (unkept === undefined) say(`${error.message} The search goes on.`);
      unkept = error;
    }
  };
  const stop = new AbortController();
  const halt = (): void => {
    stop.abort();
  };
  process.once('SIGINT', halt);
  let found: FoundTogether | undefined;
  try {
    found = await work(task, range, before, {
      stop: stop.signal,
      onpart: (soFar) => {
        const now = performance.now();
        if (state !== undefined && now - written > WRITTEN_EVERY) {
          keep(state, soFar);
          written = now;
        }
        if (err.isTTY === true)
          err.write(
            `\r${progressLine(soFar, search.candidates, (now - began) / 1000).padEnd(78)}\r`,
          );
      },
    });
  } finally {
    process.off('SIGINT', halt);
    if (err.isTTY === true) err.write(`\r${' '.repeat(78)}\r`);
  }
  if (found === undefined) throw new Refusal('suggest: stopped before anything was found.', 1);
  if (state !== undefined) keep(state, found);
  if (stop.signal.aborted)
    say(
      state === undefined
        ? 'Stopped; this is the best so far.'
        : `Stopped; this is the best so far, and the same call goes on from ${state}.`,
    );
  const told = [...found.best, ...found.frontier].map(({ picks }) => search.told(picks));
  if (songs.length > 0) {
    const places = task.question.places;
    await togetherBySongs(task.setup, places, songs, found, told, options);
  } else {
    const printed = printedOf(found, told, foldOf(options));
    if (options.json === true) printJson(printed);
    else printTogether(printed, task.setup, options.setup);
  }
  if (unkept !== undefined) throw unkept;
}

/** Are these files results for several stations? What they are else is told by who reads them. */
export const areTogether = (files: readonly string[]): boolean =>
  files.length > 0 && /"picks"|"frontier"/.test(readFileText(files[0] ?? ''));

/** Joins printed results of ranges. */
export function mergeTogether(
  files: readonly string[],
  options: Pick<TogetherOptions, 'json' | 'fold'>,
): void {
  const parts = files.map((file) => readPrinted(file, readFileText(file)));
  const [first] = parts;
  const other = parts.findIndex(({ found }) => found.question !== first?.found.question);
  if (other >= 0)
    throw new Refusal(
      `${files[other] ?? ''} answers another question than ${files[0] ?? ''}; results are joined where setup and options are the same.`,
      1,
    );
  let found: FoundTogether;
  try {
    found = joinTogether(parts.map((part) => part.found));
  } catch {
    throw new Refusal('--merge: two of the files hold the same range.', 1);
  }
  const told = new Map(parts.flatMap((part) => [...part.told]));
  const printed = printedOf(
    found,
    [...found.best, ...found.frontier].map(({ picks }) => told.get(picks.join()) as ToldTogether),
    foldOf(options),
  );
  if (options.json === true) printJson(printed);
  else printTogether(printed);
}
