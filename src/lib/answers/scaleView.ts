/** Pockets and ladders for the page: what is asked as texts, and the answer as plain data. */
import { ok, refuse, type Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { TuneStep } from '$lib/arrange/tune';
import { ladder as ladderOf, type Ladder } from '$lib/scales/ladders';
import {
  inPocketOrder,
  pocketsIn,
  priced,
  runThrough,
  type PricedPocket,
} from '$lib/scales/pockets';
import { optionFaultText, type OptionFault } from './options';
import {
  readLadderQuestion,
  readScaleQuestion,
  type LadderTexts,
  type ScaleTexts,
} from './scaleQuestion';

/** The first fault as a sentence. */
const told = (faults: readonly OptionFault[]): string =>
  faults[0] === undefined ? 'It cannot be read.' : optionFaultText(faults[0]);

/** The pockets of a scale in their order; refused with a sentence. */
function pockets(setup: Setup, texts: ScaleTexts): Result<readonly PricedPocket[], string> {
  const read = readScaleQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, neck, pocket = 0 } = read.value;
  const found = pocketsIn(setup, scale, neck, pocket);
  return ok(inPocketOrder(found.map((each) => priced(setup, scale, neck, each))));
}

/** The best run through one of them. */
function pocketRun(
  setup: Setup,
  texts: ScaleTexts,
  pocket: PricedPocket,
): Result<readonly TuneStep[], string> {
  const read = readScaleQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, neck } = read.value;
  return ok(runThrough(setup, scale, neck, pocket).steps);
}

/** A ladder; refused with a sentence where there is none. */
function ladder(setup: Setup, texts: LadderTexts): Result<Ladder, string> {
  const read = readLadderQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, ...question } = read.value;
  const found = ladderOf(setup, scale, question);
  return found === undefined
    ? refuse(
        `${question.interval} of this scale lie on no two neighbouring degrees of these strings. More strings may have them.`,
      )
    : ok(found);
}

/** What the page can ask of a scale. */
export type ScaleAsked =
  | { readonly what: 'pockets'; readonly texts: ScaleTexts }
  | { readonly what: 'run'; readonly texts: ScaleTexts; readonly pocket: PricedPocket }
  | { readonly what: 'ladder'; readonly texts: LadderTexts };

/** One of the answers, by what was asked. */
export interface ScaleTold {
  readonly pockets?: readonly PricedPocket[];
  readonly run?: readonly TuneStep[];
  readonly ladder?: Ladder;
}

/** Answers one question about a scale; refused with a sentence. */
export function scales(setup: Setup, asked: ScaleAsked): Result<ScaleTold, string> {
  const as = <T>(found: Result<T, string>, told: (value: T) => ScaleTold) =>
    found.ok ? ok(told(found.value)) : found;
  if (asked.what === 'pockets')
    return as(pockets(setup, asked.texts), (value) => ({ pockets: value }));
  if (asked.what === 'run')
    return as(pocketRun(setup, asked.texts, asked.pocket), (value) => ({ run: value }));
  return as(ladder(setup, asked.texts), (value) => ({ ladder: value }));
}
