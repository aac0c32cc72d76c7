/**
 * Arrangements that differ from the best one in what they are: each is exactly the best under a character
 * that it is told by, or the best of all that are as different as it is.
 *
 * A character is a limit on the candidates, or something that counts besides the work or before all of it.
 */
import type { Layer, Position } from '$lib/engine/layer';
import { engagedCode } from '$lib/setup/engagedText';
import { bestWays, type FoundWay, type WaysQuestion } from './bestWays';
import { fewestFrets, fretOf, narrowedStages } from './constrained';
import type { Nearby } from './nearby';
import { NEVER, counting, type Counted } from './moveCosts';
import type { Stage } from './stage';

/** What an arrangement is told by. */
export const CHARACTERS = [
  'stays low',
  'fewest bar moves',
  'most pulls',
  'stays within three frets',
  'highest melody',
  'two strings only',
  'another route',
] as const;
export type Character = (typeof CHARACTERS)[number];

/** The part of its places that another route has otherwise, at least. */
const DIFFERENT = 0.4;
/** The bar's widest stretch of `stays within three frets`. */
const POCKET = 3;
/** The highest fret of `highest melody`. */
const HIGHEST_FRET = 12;
/** `stays low`: no fret above this one, where every chord can be had there; else the lowest that will do. */
const LOW = 5;
/**
 * `highest melody`: half an easy pedal for each semitone by which a top note is higher, so that melody comes
 * before comfort, but no pile of levers before a melody that is a step lower. In thousandths.
 */
const SEMITONE_HIGHER = 500;

/** So much before all work that a piece of this length never adds up to `NEVER`. */
const beforeAll = (stages: readonly Stage[]): number => Math.floor(NEVER / 2 / (stages.length + 1));

const best = (question: WaysQuestion, stages: readonly Stage[] | undefined) =>
  stages === undefined ? undefined : bestWays({ ...question, stages, most: 1 })[0];

/** Stages with something more to pay at some candidates, in thousandths. */
const dearer = (
  stages: readonly Stage[],
  price: (stage: Stage, candidate: number, at: number) => number,
): Stage[] =>
  stages.map((stage, at) => ({
    ...stage,
    effort: stage.effort.map((effort, candidate) => effort + price(stage, candidate, at)),
  }));

/** The best way up to a low fret. */
function stayingLow(question: WaysQuestion): FoundWay | undefined {
  const lowest = (layer: Layer): number =>
    layer.positions.reduce((least, { fret }) => Math.min(least, fret), Infinity);
  const limit = Math.max(LOW, ...question.stages.map(({ layer }) => lowest(layer)));
  return best(
    question,
    narrowedStages(question.stages, (layer, candidate) => fretOf(layer, candidate) <= limit),
  );
}

/** The best way in the narrowest stretch of so many frets, where there is one. */
function inPocket(question: WaysQuestion, nearby: Nearby): FoundWay | undefined {
  if (fewestFrets(question.stages.map(({ layer }) => layer)) > POCKET) return undefined;
  return nearby.best((stages) => inPocketOf(question, stages));
}

function inPocketOf(question: WaysQuestion, stages: readonly Stage[]): FoundWay | undefined {
  const lows = new Set(stages.flatMap(({ layer }) => layer.positions.map(({ fret }) => fret)));
  let least: FoundWay | undefined;
  for (const low of lows) {
    const way = best(
      question,
      narrowedStages(stages, (layer, candidate) => {
        const fret = fretOf(layer, candidate);
        return fret >= low && fret <= low + POCKET;
      }),
    );
    if (way !== undefined && way.cost < (least?.cost ?? Infinity)) least = way;
  }
  return least;
}

/** The best way where high notes on top are worth work, up to fret 12: beyond it all is as high as the neck. */
function highest(question: WaysQuestion): FoundWay | undefined {
  const stages = narrowedStages(
    question.stages,
    (layer, candidate) => fretOf(layer, candidate) <= HIGHEST_FRET,
  );
  if (stages === undefined) return undefined;
  const lower = ({ layer }: Stage, candidate: number): number =>
    (127 - (layer.top[candidate] as number)) * SEMITONE_HIGHER;
  return best(question, dearer(stages, lower));
}

/** The best of the ways with the fewest moves of a kind. */
const fewest = (question: WaysQuestion, what: Counted): FoundWay | undefined =>
  best(
    { ...question, costs: counting(question.costs, what, beforeAll(question.stages)) },
    question.stages,
  );

/** How many places of two ways are the same. */
export const samePlaces = (a: readonly string[], b: readonly string[]): number =>
  a.filter((place, at) => place === b[at]).length;

/** Where a way is, place by place. */
const placesOf = (stages: readonly Stage[], { candidates }: FoundWay): string[] =>
  stages.map((stage, at) => placeOf(stage, candidates[at] as number));

function placeOf({ layer }: Stage, candidate: number): string {
  const at = layer.positions[layer.position[candidate] as number];
  return at === undefined ? '' : placeText(at);
}

/** Where the bar lies and what is needed. */
export const placeText = ({ neck, fret, slant, engaged }: Omit<Position, 'combination'>): string =>
  `${neck}/${fret}/${slant}/${engagedCode(engaged)}`;

/**
 * The best of all ways that are so different from those before: a place that one of them has costs so much
 * more. Whatever that is, what is best then is the cheapest of all ways that share no more places with
 * them; so the least price is looked for at which enough is different.
 */
function another(
  question: WaysQuestion,
  nearby: Nearby,
  before: readonly (readonly string[])[],
): FoundWay | undefined {
  const { stages } = question;
  const most = Math.floor(stages.length * (1 - DIFFERENT));
  const under = (price: number): FoundWay | undefined =>
    nearby.best((near) => {
      const shared = near.map(({ layer }, at) =>
        layer.positions.map((position) => {
          const place = placeText(position);
          return before.filter((way) => way[at] === place).length;
        }),
      );
      return best(
        question,
        dearer(
          near,
          ({ layer }, candidate, at) =>
            (shared[at]?.[layer.position[candidate] as number] ?? 0) * price,
        ),
      );
    });
  const isOther = (way: FoundWay): boolean => {
    const places = placesOf(stages, way);
    return before.every((each) => samePlaces(places, each) <= most);
  };
  let found: FoundWay | undefined;
  let [low, high] = [0, 16_000];
  for (let time = 0; time < 7; time++) {
    const price = time === 0 ? high : Math.round((low + high) / 2);
    const way = under(price);
    if (way !== undefined && isOther(way)) [found, high] = [way, price];
    else if (time === 0) return undefined;
    else low = price;
  }
  return found;
}

/**
 * The arrangement of a character; `undefined` where there is none. What it is told to cost may be more than
 * its work.
 *
 * @param nearby of the same question
 * @param before places of the arrangements that another route is to differ from
 */
export function wayOfCharacter(
  question: WaysQuestion,
  nearby: Nearby,
  character: Exclude<Character, 'two strings only'>,
  before: readonly (readonly string[])[],
): FoundWay | undefined {
  switch (character) {
    case 'stays low':
      return stayingLow(question);
    case 'stays within three frets':
      return inPocket(question, nearby);
    case 'highest melody':
      return highest(question);
    case 'fewest bar moves':
      return fewest(question, 'bar moves');
    case 'most pulls':
      return fewest(question, 'changes without a pull');
    case 'another route':
      return another(question, nearby, before);
  }
}
