/** Pockets and ladders for the page: what is asked as texts, and the answer as plain data. */
import { ok, refuse, type Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { TuneStep } from '$lib/arrange/tune';
import { ladderBreak } from '$lib/scales/ladderBreaks';
import { ladder as ladderOf, type Ladder } from '$lib/scales/ladders';
import {
  inPocketOrder,
  pocketsIn,
  priced,
  runThrough,
  type PricedPocket,
} from '$lib/scales/pockets';
import { breakText, offerText, type OfferText } from './ladderWords';
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

/** The pockets of a scale in their order, and the best run through the first; refused with a sentence. */
function pockets(setup: Setup, texts: ScaleTexts): Result<ScaleTold, string> {
  const read = readScaleQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, neck, pocket = 0 } = read.value;
  const found = pocketsIn(setup, scale, neck, pocket);
  const ordered = inPocketOrder(found.map((each) => priced(setup, scale, neck, each)));
  const [first] = ordered;
  return ok({
    pockets: ordered,
    ...(first === undefined ? {} : { run: runThrough(setup, scale, neck, first).steps }),
  });
}

/** The best run through one of them. */
function pocketRun(
  setup: Setup,
  texts: ScaleTexts,
  pocket: PricedPocket,
): Result<ScaleTold, string> {
  const read = readScaleQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, neck } = read.value;
  return ok({ run: runThrough(setup, scale, neck, pocket).steps });
}

/** Why a ladder ends, and what has more. */
export interface BrokenOff {
  readonly why: string;
  readonly offers: readonly OfferText[];
}

/** A ladder, and where it breaks off; refused with a sentence where the question cannot be read. */
function ladder(setup: Setup, texts: LadderTexts): Result<ScaleTold, string> {
  const read = readLadderQuestion(setup, texts);
  if (!read.ok) return refuse(told(read.error));
  const { scale, ...question } = read.value;
  const found = ladderOf(setup, scale, question);
  const broken = ladderBreak(setup, scale, question, found);
  return ok({
    ...(found === undefined ? {} : { ladder: found }),
    ...(broken === undefined
      ? {}
      : {
          brokenOff: {
            why: breakText(scale, question, broken),
            offers: broken.offers.map(offerText),
          },
        }),
  });
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
  /** None where no two neighbouring rungs can be played. */
  readonly ladder?: Ladder;
  readonly brokenOff?: BrokenOff;
}

/** Answers one question about a scale; refused with a sentence. */
export function scales(setup: Setup, asked: ScaleAsked): Result<ScaleTold, string> {
  if (asked.what === 'pockets') return pockets(setup, asked.texts);
  if (asked.what === 'run') return pocketRun(setup, asked.texts, asked.pocket);
  return ladder(setup, asked.texts);
}
