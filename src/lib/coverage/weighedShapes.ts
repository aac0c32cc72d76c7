/**
 * Shapes: voicings without their fret. The bar carries a shape up the neck as it is, so whatever is
 * true of a setup's shapes at the nut is true of its voicings at every fret.
 */
import type { PcSet } from '$lib/theory/pcset';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import type { Engaged, Neck, Setup } from '$lib/setup/setup';
import { barTerms } from '$lib/effort/bar';
import { thousandths } from '$lib/effort/effort';
import { feetEffort, feetTerms } from '$lib/effort/feet';
import { pickingTerms } from '$lib/effort/picking';
import { EVEN } from '$lib/effort/weights';
import { aheadOf, compass, slantFits } from '$lib/search/find';
import { nutIndex, type NutIndex } from '$lib/search/nutIndex';
import { stringsIn } from '$lib/search/voicing';
import { counts, type Yardstick } from './yardstick';

export interface ShapeOptions {
  /** Fewest and most strings of a grip. */
  readonly sizes: readonly [number, number];
  readonly slants: boolean;
}

export interface Shape {
  readonly index: NutIndex;
  /** Its number in the index. */
  readonly voicing: number;
  /** Pitch classes with the bar at the nut. */
  readonly set: PcSet;
  /** In thousandths, without the reach up the neck. */
  readonly effort: number;
}

/** Thousandths of effort for holding controls. */
export const feetPrice = (setup: Setup, engaged: readonly Engaged[]): number =>
  thousandths(feetTerms(setup, engaged), 'feet', EVEN);

/** Thousandths of effort for picking a grip. */
export const pickingPrice = (neck: Neck, grip: number): number =>
  thousandths(pickingTerms(neck, stringsIn(grip)), 'picking', EVEN);

/** Thousandths of effort for a slanted bar, below the frets that have to be reached for. */
export const slantPrice = (setup: Setup, slant: number): number =>
  slant === 0 ? 0 : thousandths(barTerms(setup, 1, undefined, slant), 'bar', EVEN);

/** Thousandths of effort for bringing a straight bar to a fret, from wherever it is. */
export const reachPrice = (setup: Setup, fret: number): number =>
  thousandths(barTerms(setup, fret, undefined), 'bar', EVEN);

/** The frets, within bounds, at which a grip under a slanted or a straight bar lies on the neck. */
export function fretsFor(
  ahead: readonly number[] | undefined,
  frets: readonly [number, number],
): number[] {
  const all = Array.from({ length: frets[1] - frets[0] + 1 }, (_, i) => frets[0] + i);
  return ahead === undefined ? all : all.filter((fret) => slantFits(ahead, fret, frets));
}

/** The note on top of a shape, as a pitch class at the nut. */
export const topOf = ({ index, voicing }: Shape): Chroma => chromaOf(compass(index, voicing)[1]);

/**
 * Every shape of a setup that says a chord of the yardstick, neck by neck. What holding it costs is
 * told by `held`, where the setup is a part of that one with some controls left unused.
 */
export function shapesOf(
  setup: Setup,
  by: Yardstick,
  options: ShapeOptions,
  held: Setup = setup,
): Shape[][] {
  return setup.necks.map((neck, place) => {
    const index = nutIndex(setup, place + 1, (engaged) => feetEffort(held, engaged), options);
    const feet = Int32Array.from(index.on.engaged, (engaged) => feetPrice(held, engaged));
    const picking = new Map<number, number>();
    const pickingOf = (grip: number): number => {
      let price = picking.get(grip);
      if (price === undefined) picking.set(grip, (price = pickingPrice(neck, grip)));
      return price;
    };
    const slant = [
      0,
      ...index.slants.map(({ slant, ahead }) =>
        fretsFor(ahead, [0, setup.frets]).length === 0 ? undefined : slantPrice(setup, slant),
      ),
    ];
    const shapes: Shape[] = [];
    for (let set: PcSet = 0; set < 4096; set++) {
      if (!counts(by, set)) continue;
      for (let row = index.from[set] as number; row < (index.from[set + 1] as number); row++) {
        const voicing = index.byPcs[row] as number;
        const forBar = slant[index.slant[voicing] as number];
        // a neck too short for the slant
        if (forBar === undefined) continue;
        const effort =
          (feet[index.combination[voicing] as number] as number) +
          pickingOf(index.grip[voicing] as number) +
          forBar;
        shapes.push({ index, voicing, set, effort });
      }
    }
    return shapes;
  });
}

/** What makes two shapes the same: strings, slant and pitches. */
export function shapeKey({ index, voicing }: Shape): string {
  const { on, open } = index;
  const grip = index.grip[voicing] as number;
  const row = (index.combination[voicing] as number) * on.strings;
  let key = String.fromCharCode(
    grip,
    2 + (index.slants[(index.slant[voicing] ?? 0) - 1]?.slant ?? 0),
  );
  for (let s = 0; s < on.strings; s++)
    if (grip & (1 << s)) key += String.fromCharCode((open[s] ?? 0) + (on.moves[row + s] ?? 0));
  return key;
}

/** The frets, within bounds, at which a shape can be played. */
export const fretsOf = ({ index, voicing }: Shape, frets: readonly [number, number]): number[] =>
  fretsFor(aheadOf(index, voicing), frets);
