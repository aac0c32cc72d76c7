/**
 * Wishes that bind the whole way together: a pocket that the bar never leaves, an end where it began.
 * Each is the union of plain searches over narrowed layers, and so as exact as they are: a way is in a
 * pocket of w frets if and only if it lies within [f, f + w] for some f, and it ends as it began if and
 * only if there is a bar position that both its ends have.
 */
import type { Layer } from '$lib/engine/layer';
import { compareWays } from './beginnings';
import { bestWays, leastFrom, type FoundWay, type WaysQuestion } from './bestWays';
import { narrowedStage, type Stage } from './stage';
import type { Wishes } from './wishes';

/** A wish that cannot be had with the others, in a sentence. */
export interface Clash {
  readonly wish: 'pocket' | 'end';
  readonly words: string;
}

export interface Asked extends Omit<WaysQuestion, 'home'> {
  readonly wishes: Pick<Wishes, 'home' | 'pocket' | 'endAsBegun'>;
}

/** The best ways that keep the wishes; where one cannot be had, those without it. */
export function findWays(asked: Asked): { ways: FoundWay[]; clashes: readonly Clash[] } {
  const { stages, wishes } = asked;
  if (stages.length === 0 || stages.some(({ layer }) => layer.count === 0))
    return { ways: [], clashes: [] };
  const clashes: Clash[] = [];
  let { pocket, endAsBegun } = wishes;
  const fewest = pocket === undefined ? 0 : fewestFrets(stages.map(({ layer }) => layer));
  if (pocket !== undefined && fewest > pocket) {
    clashes.push({
      wish: 'pocket',
      words: `No arrangement stays within ${frets(pocket)}; the narrowest pocket with every chord in it takes ${frets(fewest)}.`,
    });
    pocket = undefined;
  }
  const within = (area: number | undefined, end: boolean): FoundWay[] =>
    area === undefined ? ending(asked, stages, end) : inPocket(asked, area, end);
  let ways = within(pocket, endAsBegun);
  if (endAsBegun && ways.length === 0) {
    clashes.push({
      wish: 'end',
      words: `The last chord cannot be played where the first one can${pocket === undefined ? '' : ` within ${frets(pocket)}`}.`,
    });
    endAsBegun = false;
    ways = within(pocket, endAsBegun);
  }
  return { ways, clashes };
}

const frets = (count: number): string =>
  count === 0 ? 'one bar position' : count === 1 ? 'one fret' : `${count} frets`;

const fretsOf = (layer: Layer): Set<number> => new Set(layer.positions.map(({ fret }) => fret));

/** The fewest frets from a bar position to the highest that some way needs. */
export function fewestFrets(layers: readonly Layer[]): number {
  const sets = layers.map(fretsOf);
  const all = [...new Set(sets.flatMap((set) => [...set]))].sort((a, b) => a - b);
  let fewest = Infinity;
  for (const low of all) {
    // how far up from here each layer needs to go
    const needed = sets.map((set) => Math.min(...[...set].filter((fret) => fret >= low)));
    fewest = Math.min(fewest, Math.max(...needed) - low);
  }
  return fewest;
}

/** Stages of which some candidates are left; `undefined` where one has none. */
export function narrowedStages(
  stages: readonly Stage[],
  isChosen: (layer: Layer, candidate: number) => boolean,
): Stage[] | undefined {
  const inside = stages.map((stage) =>
    narrowedStage(stage, (candidate) => isChosen(stage.layer, candidate)),
  );
  return inside.some(({ layer }) => layer.count === 0) ? undefined : inside;
}

/** The fret of a candidate. */
export const fretOf = (layer: Layer, candidate: number): number =>
  layer.positions[layer.position[candidate] as number]?.fret ?? -1;

/** The first few of several lists of ways, each way once. */
export function merged(lists: readonly FoundWay[], most: number): FoundWay[] {
  const sorted = [...lists].sort(compareWays);
  return sorted
    .filter((way, index) => index === 0 || compareWays(way, sorted[index - 1] as FoundWay) !== 0)
    .slice(0, most);
}

function inPocket(asked: Asked, pocket: number, end: boolean): FoundWay[] {
  const { stages, most } = asked;
  const lows = new Set(stages.flatMap(({ layer }) => [...fretsOf(layer)]));
  let ways: FoundWay[] = [];
  for (const low of lows) {
    const narrow = narrowedStages(stages, (layer, candidate) => {
      const fret = fretOf(layer, candidate);
      return fret >= low && fret <= low + pocket;
    });
    if (narrow === undefined) continue;
    ways = merged([...ways, ...ending(asked, narrow, end)], most);
  }
  return ways;
}

const barKey = (layer: Layer, candidate: number): string => {
  const { neck, fret, slant } = layer.positions[layer.position[candidate] as number] ?? {};
  return `${neck}|${fret}|${slant}`;
};

/** With or without the end where it began. */
function ending(asked: Asked, stages: readonly Stage[], end: boolean): FoundWay[] {
  const { wishes, most } = asked;
  const question: WaysQuestion = { ...asked, stages, home: wishes.home };
  const [first, last] = [stages[0], stages.at(-1)];
  if (!end || first === undefined || last === undefined || stages.length === 1)
    return bestWays(question);
  // positions to begin in, those first from which the least could be had if the end were free
  const least = leastFrom(question);
  const bounds = new Map<string, number>();
  for (let candidate = 0; candidate < first.layer.count; candidate++) {
    const key = barKey(first.layer, candidate);
    bounds.set(key, Math.min(bounds.get(key) ?? Infinity, least[candidate] as number));
  }
  let ways: FoundWay[] = [];
  for (const [key, bound] of [...bounds].sort((a, b) => a[1] - b[1])) {
    // no way that begins here can be among the first ones any more
    if (ways.length === most && bound > (ways.at(-1)?.cost ?? Infinity)) break;
    const at = (stage: Stage) => narrowedStage(stage, (c) => barKey(stage.layer, c) === key);
    const [from, to] = [at(first), at(last)];
    if (to.layer.count === 0) continue;
    const found = bestWays({ ...question, stages: [from, ...stages.slice(1, -1), to] });
    ways = merged([...ways, ...found], most);
  }
  return ways;
}
