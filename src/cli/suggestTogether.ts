/** `gripwright suggest --stations`: pull sets for two or three stations together. */
import { exampleText } from '$lib/answers/exampleText';
import { scoreOfPart } from '$lib/coverage/clarity';
import { joinTogether, type FoundTogether, type ToldTogether } from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { together } from '$lib/coverage/together';
import { typeName } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { readFileText } from './files';
import { Refusal, countText, inLines, numberText, print, printJson, say, table } from './out';
import { leastHeadroom, pullText } from './pullText';
import { terminal } from './terminal';
import { readPrinted, readState, writeState, type Printed } from './togetherFile';
import { togetherWithThreads, type TogetherTask } from './togetherPool';
import { VERSION } from './version';

export interface TogetherOptions {
  readonly json?: boolean;
  readonly state?: string;
}

/** Milliseconds between two states that are written. */
const WRITTEN_EVERY = 2000;

/** What a search prints: the numbers that results are joined by, and everything that is told. */
export function printedOf(found: FoundTogether, told: readonly ToldTogether[]): Printed {
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
    best: rows.slice(0, best.length),
    frontier: rows.slice(best.length),
  };
}

/** How far it is, with the best so far and the bound on what is left, for who looks on. */
export function progressLine(soFar: FoundTogether, many: number, seconds: number): string {
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
  const printed = printedOf(
    found,
    [...found.best, ...found.frontier].map(({ picks }) => search.told(picks)),
  );
  if (options.json === true) printJson(printed);
  else printTogether(printed, task.setup);
  if (unkept !== undefined) throw unkept;
}

const controlsText = (controls: ToldTogether['controls']): string =>
  controls.map(({ station, pulls }) => `${station} ${pulls.map(pullText).join(', ')}`).join(' · ');

/** How many were weighed, and what the others were skipped by. */
function countsText({ done, candidates, weighed, skipped }: Printed): string {
  const by = [
    [skipped.must, 'do not move what must be moved'],
    [skipped.whole, 'with their whole first pull set'],
    [skipped.parts, 'by what their parts give'],
    [skipped.spots, 'by the chords that the two share'],
  ] as const;
  const said = by.flatMap(([many, text]) => (many === 0 ? [] : [`${numberText(many)} ${text}`]));
  return `${numberText(done)} of ${numberText(candidates)} choices looked at, of one station and of several: ${numberText(weighed)} weighed${said.length === 0 ? '' : `, the others skipped, for they cannot come among the best: ${said.join(', ')}`}.`;
}

function printTogether(printed: Printed, setup?: Setup): void {
  const { best, frontier, left } = printed;
  print(`${countsText(printed)}\n`);
  if (left !== undefined) print(`Nothing that is left scores above ${left.toFixed(2)}.\n`);
  if (best.length === 0) print('No pulls for all of these stations add anything.');
  else {
    const [heading = '', ...entries] = table(
      ['score', 'pulls', 'most of it'],
      best.map(({ score, gain: whole, controls, byType }) => [
        score.toFixed(2),
        controlsText(controls),
        byType
          .slice(0, 4)
          .map(
            ({ type, gain }) => `${typeName(type)} ${scoreOfPart(gain, whole, score).toFixed(1)}`,
          )
          .join(', '),
      ]),
      [0],
    ).split('\n');
    print(heading);
    const indent = heading.indexOf('pulls');
    best.forEach(({ controls, examples, opens, alike }, at) => {
      print(entries[at] ?? '');
      const [first, ...others] = examples.map((example) => {
        const { chords, held, strings } = exampleText(example, 0);
        return `${chords} ${strings}${held === '' ? '' : ` ${held}`}`;
      });
      if (first !== undefined) print(inLines([`to play: ${first}`, ...others], '; ', indent));
      const headroom =
        setup === undefined
          ? ''
          : leastHeadroom(
              setup,
              controls.flatMap(({ pulls }) => pulls),
            );
      print(
        inLines(
          [
            `${countText(opens.length, 'chord')} on new roots`,
            ...(headroom === '' ? [] : [`least headroom ${headroom}`]),
            ...alike.map(
              (other) => `the same as ${controlsText(other.controls)}: ${other.score.toFixed(2)}`,
            ),
          ],
          '; ',
          indent,
        ),
      );
    });
  }
  if (frontier.length === 0) return;
  print('\nWhat each string more buys: the best with so many strings moved');
  print(
    table(
      ['strings', 'score', 'pulls'],
      frontier.map(({ strings, score, controls }) => [
        String(strings),
        score.toFixed(2),
        controlsText(controls),
      ]),
      [0, 1],
    ),
  );
}

/** Are these files results for several stations? What they are else is told by who reads them. */
export const areTogether = (files: readonly string[]): boolean =>
  files.length > 0 && /"picks"|"frontier"/.test(readFileText(files[0] ?? ''));

/** Joins printed results of ranges. */
export function mergeTogether(files: readonly string[], options: TogetherOptions): void {
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
  );
  if (options.json === true) printJson(printed);
  else printTogether(printed);
}
