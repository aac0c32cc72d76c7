/** What was found of several stations as a file: the state of a search that goes on, and its printed result. */
import * as v from 'valibot';
import type { Counts, FoundTogether, ToldTogether, Weighed } from '$lib/coverage/foundTogether';
import { STATIONS } from '$lib/setup/setup';
import { example } from './suggestFile';
import { existsText, replaceFile } from './files';
import { Refusal } from './out';

const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
const range = v.pipe(
  v.tuple([whole, whole]),
  v.check(([first, last]) => first <= last),
);
const weighed = v.object({
  picks: v.pipe(
    v.array(v.pipe(v.number(), v.integer(), v.minValue(-1))),
    v.minLength(2),
    v.maxLength(3),
  ),
  strings: whole,
  sum: v.number(),
  score: v.number(),
  name: v.string(),
});

/** What is known of a search, of whatever question. */
const FoundShape = v.object({
  question: v.pipe(v.string(), v.regex(/^[0-9a-f]{16}$/)),
  limit: whole,
  candidates: whole,
  done: whole,
  units: whole,
  ranges: v.array(range),
  counts: v.object({
    must: whole,
    room: whole,
    whole,
    parts: whole,
    spots: whole,
    weighed: whole,
    gain: whole,
  }),
  best: v.array(weighed),
  frontier: v.array(weighed),
  left: v.optional(v.number()),
});

const StateShape = v.object({ format: v.literal(1), version: v.string(), found: FoundShape });

/** The state in a file; `undefined` where there is none. Another question or version is refused. */
export function readState(
  file: string,
  question: string,
  version: string,
): FoundTogether | undefined {
  const text = existsText(file);
  if (text === undefined) return undefined;
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    document = undefined;
  }
  const read = v.safeParse(StateShape, document);
  if (!read.success)
    throw new Refusal(`${file}: it is not the state of a search, and stays as it is.`, 1);
  const { found, version: written } = read.output;
  if (found.question !== question)
    throw new Refusal(
      `${file}: it is the state of another search; setup and options must be the same. It stays as it is.`,
      1,
    );
  if (written !== version)
    throw new Refusal(
      `${file}: it was written by version ${written}, and this is ${version}: results of different versions are not joined. It stays as it is.`,
      1,
    );
  return found;
}

/** Writes the state, whole or not at all. */
export const writeState = (file: string, found: FoundTogether, version: string): void => {
  replaceFile(file, JSON.stringify({ format: 1, version, found }));
};

/** One row of a printed result: everything that is told, and the numbers that results are joined by. */
export type PrintedRow = ToldTogether & Pick<Weighed, 'picks' | 'sum'>;

/** A result as `--json` prints it. */
export interface Printed extends Omit<FoundTogether, 'best' | 'frontier' | 'counts' | 'left'> {
  /** Hundredths of the score by which choices that do the same may differ and be told once. */
  readonly fold: number;
  readonly skipped: Omit<Counts, 'weighed' | 'gain'>;
  readonly weighed: number;
  /** Of those that were weighed: so many gain too little for any clarity. */
  readonly gainTooSmall: number;
  readonly left?: number;
  /** Each with those that come to nearly the same. */
  readonly best: readonly (PrintedRow & { readonly near: readonly PrintedRow[] })[];
  readonly frontier: readonly PrintedRow[];
}

const pull = v.object({ neck: whole, string: whole, semitones: v.number() });
const control = v.object({ station: v.picklist(STATIONS), pulls: v.array(pull) });
const row = v.looseObject({
  picks: weighed.entries.picks,
  sum: v.number(),
  strings: whole,
  score: v.number(),
  gain: v.number(),
  controls: v.array(control),
  examples: v.array(example),
  byType: v.array(v.object({ type: v.string(), gain: v.number() })),
  opens: v.array(v.object({ type: v.string(), root: whole })),
  alike: v.array(v.object({ controls: v.array(control), score: v.number() })),
});
/** In the order in which they were found to be best, before like ones were folded. */
const byScore = (a: Pick<PrintedRow, 'score' | 'picks'>, b: Pick<PrintedRow, 'score' | 'picks'>) =>
  b.score - a.score ||
  (a.picks.map((pick, at) => pick - (b.picks[at] ?? 0)).find((each) => each !== 0) ?? 0);
const { counts, best: _best, frontier: _frontier, ...numbers } = FoundShape.entries;
const PrintedShape = v.object({
  ...numbers,
  skipped: v.omit(counts, ['weighed', 'gain']),
  weighed: whole,
  gainTooSmall: whole,
  best: v.array(v.looseObject({ ...row.entries, near: v.array(row) })),
  frontier: v.array(row),
});

/** A printed result that is read back: what was found, and by its picks what is told of each choice. */
export interface ReadBack {
  readonly found: FoundTogether;
  readonly told: ReadonlyMap<string, ToldTogether>;
}

/** The result in a file’s text; anything else is refused, with the place where it goes wrong. */
export function readPrinted(file: string, text: string): ReadBack {
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    throw new Refusal(`${file} is not JSON; wanted is what gripwright suggest --json printed.`, 1);
  }
  const read = v.safeParse(PrintedShape, document, { abortEarly: true });
  if (!read.success) {
    const where = v.getDotPath(read.issues[0]);
    throw new Refusal(
      `${file} is not what gripwright suggest --stations --json printed${where === null ? '' : `; the trouble begins at ${where}`}.`,
      1,
    );
  }
  const {
    best: folded,
    frontier,
    skipped,
    weighed: many,
    gainTooSmall: gain,
    left: _,
    ...rest
  } = read.output;
  const best = folded.flatMap(({ near, ...first }) => [first, ...near]).sort(byScore);
  const weighedOf = ({ picks, sum, strings, score }: (typeof best)[number]): Weighed => ({
    picks,
    strings,
    sum,
    score,
    name: [...picks].sort((a, b) => a - b).join(),
  });
  return {
    found: {
      ...rest,
      counts: { ...skipped, weighed: many, gain },
      best: best.map(weighedOf),
      frontier: frontier.map(weighedOf),
    },
    told: new Map(
      [...best, ...frontier].map((each) => {
        const { picks, sum: _sum, ...told } = each;
        return [picks.join(), told];
      }),
    ),
  };
}
