/**
 * Wishes that bind the whole way together: a pocket that the bar never leaves, an end where it began.
 * Each is the union of plain searches over narrowed layers, and so as exact as they are: a way is in a
 * pocket of w frets if and only if it lies within [f, f + w] for some f, and it ends as it began if and
 * only if there is a bar position that both its ends have.
 */
import { bestWays, compareWays, leastFrom, type FoundWay } from './bestWays';
import { narrowed, type Layer } from '$lib/engine/layer';
import type { MoveCosts } from './moveCosts';
import type { Wishes } from './wishes';

/** A wish that cannot be had with the others, in a sentence. */
export interface Clash {
  readonly wish: 'pocket' | 'end';
  readonly words: string;
}

export interface Asked {
  readonly layers: readonly Layer[];
  readonly costs: MoveCosts;
  readonly wishes: Pick<Wishes, 'home' | 'pocket' | 'endAsBegun'>;
  readonly most: number;
}

/** The best ways that keep the wishes; where one cannot be had, those without it. */
export function findWays(asked: Asked): { ways: FoundWay[]; clashes: readonly Clash[] } {
  const { layers, wishes } = asked;
  if (layers.length === 0 || layers.some(({ count }) => count === 0))
    return { ways: [], clashes: [] };
  const clashes: Clash[] = [];
  let { pocket, endAsBegun } = wishes;
  const fewest = pocket === undefined ? 0 : fewestFrets(layers);
  if (pocket !== undefined && fewest > pocket) {
    clashes.push({
      wish: 'pocket',
      words: `No way stays within ${frets(pocket)}; the narrowest pocket with every chord in it takes ${frets(fewest)}.`,
    });
    pocket = undefined;
  }
  const within = (area: number | undefined, end: boolean): FoundWay[] =>
    area === undefined ? ending(asked, layers, end) : inPocket(asked, area, end);
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
function fewestFrets(layers: readonly Layer[]): number {
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

/** A narrowed search, its candidates told as those of the whole layers. */
interface Narrowed {
  readonly layers: readonly Layer[];
  readonly was: readonly (Int32Array | undefined)[];
}

const widened = ({ was }: Narrowed, { cost, candidates }: FoundWay): FoundWay => ({
  cost,
  candidates: candidates.map((candidate, layer) => was[layer]?.[candidate] ?? candidate),
});

/** The first few of several lists of ways, each way once. */
function merged(lists: readonly FoundWay[], most: number): FoundWay[] {
  const sorted = [...lists].sort(compareWays);
  return sorted
    .filter((way, index) => index === 0 || compareWays(way, sorted[index - 1] as FoundWay) !== 0)
    .slice(0, most);
}

function inPocket(asked: Asked, pocket: number, end: boolean): FoundWay[] {
  const { layers, most } = asked;
  const lows = new Set(layers.flatMap((layer) => [...fretsOf(layer)]));
  let ways: FoundWay[] = [];
  for (const low of lows) {
    const inside = layers.map((layer) =>
      narrowed(layer, (candidate) => {
        const fret = layer.positions[layer.position[candidate] as number]?.fret ?? -1;
        return fret >= low && fret <= low + pocket;
      }),
    );
    if (inside.some(({ layer }) => layer.count === 0)) continue;
    const narrow: Narrowed = {
      layers: inside.map(({ layer }) => layer),
      was: inside.map(({ was }) => was),
    };
    const found = ending(asked, narrow.layers, end).map((way) => widened(narrow, way));
    ways = merged([...ways, ...found], most);
  }
  return ways;
}

const barKey = (layer: Layer, candidate: number): string => {
  const { neck, fret, slant } = layer.positions[layer.position[candidate] as number] ?? {};
  return `${neck}|${fret}|${slant}`;
};

/** With or without the end where it began. */
function ending(asked: Asked, layers: readonly Layer[], end: boolean): FoundWay[] {
  const { costs, most } = asked;
  const question = { layers, costs, home: asked.wishes.home, most };
  const [first, last] = [layers[0], layers.at(-1)];
  if (!end || first === undefined || last === undefined || layers.length === 1)
    return bestWays(question);
  // positions to begin in, those first from which the least could be had if the end were free
  const least = leastFrom(question);
  const bounds = new Map<string, number>();
  for (let candidate = 0; candidate < first.count; candidate++) {
    const key = barKey(first, candidate);
    bounds.set(key, Math.min(bounds.get(key) ?? Infinity, least[candidate] as number));
  }
  let ways: FoundWay[] = [];
  for (const [key, bound] of [...bounds].sort((a, b) => a[1] - b[1])) {
    // no way that begins here can be among the first ones any more
    if (ways.length === most && bound > (ways.at(-1)?.cost ?? Infinity)) break;
    const at = [first, last].map((layer) => narrowed(layer, (c) => barKey(layer, c) === key));
    const [from, to] = at;
    if (from === undefined || to === undefined || to.layer.count === 0) continue;
    const narrow: Narrowed = {
      layers: [from.layer, ...layers.slice(1, -1), to.layer],
      was: [from.was, ...layers.slice(1, -1).map(() => undefined), to.was],
    };
    const found = bestWays({ ...question, layers: narrow.layers });
    ways = merged([...ways, ...found.map((way) => widened(narrow, way))], most);
  }
  return ways;
}
