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
import { fewMoves } from './fewMoves';
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

/**
 * The best way in the narrowest stretch of so many frets, where there is one. A stretch that some chord cannot be had in
 * for less than what is known need not be looked at.
 */
function inPocket(question: WaysQuestion, nearby: Nearby): FoundWay | undefined {
  const { stages } = question;
  if (fewestFrets(stages.map(({ layer }) => layer)) > POCKET) return undefined;
  const lows = new Set(stages.flatMap(({ layer }) => layer.positions.map(({ fret }) => fret)));
  const bounds = [...lows].map((low) => {
    const isIn = (layer: Layer, candidate: number): boolean => {
      const fret = fretOf(layer, candidate);
      return fret >= low && fret <= low + POCKET;
    };
    const each = stages.map(({ layer, same }, at) => nearby.boundOf(at, inside(layer, same, isIn)));
    return { isIn, bound: Math.max(...each) };
  });
  let least: FoundWay | undefined;
  for (const { isIn, bound } of bounds.sort((one, other) => one.bound - other.bound)) {
    if (least !== undefined && least.cost <= bound) break;
    const way = nearby.best((near) => best(question, narrowedStages(near, isIn)));
    if (way !== undefined && way.cost < (least?.cost ?? Infinity)) least = way;
  }
  return least;
}

/** The candidates that satisfy a test, by their numbers in the whole layer. */
function* inside(
  layer: Layer,
  same: Int32Array,
  isIn: (layer: Layer, candidate: number) => boolean,
): Generator<number> {
  for (let candidate = 0; candidate < layer.count; candidate++)
    if (isIn(layer, candidate)) yield same[candidate] as number;
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

/**
 * The best of the ways with the fewest moves of a kind: among the positions that ways with so few go through, and
 * with more of them as long as passes that are played alike need more moves.
 */
function fewest(question: WaysQuestion, what: Counted): FoundWay | undefined {
  const price = beforeAll(question.stages);
  const counted = { ...question, costs: counting(question.costs, what, price) };
  const { least, stagesWith } = fewMoves(question, what);
  for (let moves = least; moves <= question.stages.length;) {
    const way = best(counted, stagesWith(moves));
    const needed = way === undefined ? moves + 1 : Math.floor(way.cost / price);
    if (way !== undefined && needed <= moves) return way;
    moves = needed;
  }
  return best(counted, question.stages);
}

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

/** A way with its work and how many places it shares with those before. */
interface Sharing {
  readonly way: FoundWay;
  readonly work: number;
  readonly shared: number;
}

/** What a shared place costs at first, and at most. */
const SHARED = { least: 125, most: 32_000 };

/**
 * A way that is so different from those before, as good as a price for shared places finds one: a place that one of
 * them has costs so much more. Whatever that is, what is best then is the cheapest of all ways that share no more
 * places with them; and between a way that shares too much and one that does not lies the price at which both cost
 * the same. It is looked for among candidates near to the best first, and among all only where they have none: so a
 * cheaper one that needs a candidate far from the best may be passed over.
 */
function another(
  question: WaysQuestion,
  nearby: Nearby,
  before: readonly (readonly string[])[],
): FoundWay | undefined {
  return anotherIn(question, nearby.stages, before) ?? anotherIn(question, question.stages, before);
}

function anotherIn(
  question: WaysQuestion,
  stages: readonly Stage[],
  before: readonly (readonly string[])[],
): FoundWay | undefined {
  const most = Math.floor(stages.length * (1 - DIFFERENT));
  const shares = stages.map(({ layer }, at) =>
    layer.positions.map((position) => {
      const place = placeText(position);
      return before.filter((way) => way[at] === place).length;
    }),
  );
  const under = (price: number): Sharing | undefined => {
    const priced = dearer(
      stages,
      ({ layer }, candidate, at) =>
        (shares[at]?.[layer.position[candidate] as number] ?? 0) * price,
    );
    const way = best(question, priced);
    if (way === undefined) return undefined;
    const places = placesOf(question.stages, way);
    const shared = before.reduce((sum, each) => sum + samePlaces(places, each), 0);
    return { way, shared, work: way.cost - price * shared };
  };
  const isOther = ({ way }: Sharing): boolean => {
    const places = placesOf(question.stages, way);
    return before.every((each) => samePlaces(places, each) <= most);
  };
  let near: Sharing | undefined;
  let other: Sharing | undefined;
  for (let price = SHARED.least; other === undefined && price <= SHARED.most; price *= 4) {
    const found = under(price);
    if (found === undefined) return undefined;
    if (isOther(found)) other = found;
    else near = found;
  }
  while (near !== undefined && other !== undefined && near.shared > other.shared) {
    const price = Math.ceil((other.work - near.work) / (near.shared - other.shared));
    const found = under(price);
    if (found === undefined || found.way.cost >= other.work + price * other.shared) break;
    if (isOther(found)) other = found;
    else near = found;
  }
  return other?.way;
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
