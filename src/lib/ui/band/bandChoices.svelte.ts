/** How a player is accompanied: chosen anywhere, remembered on this device, the same in every place. */
import { droneOf } from '$lib/playing/band/drone';
import { FEEL_NAMES, type FeelName } from '$lib/playing/band/feels';
import { LEVELLED, USUAL_LEVEL, type Levelled, type Levels } from '$lib/playing/band/levels';
import { storeBand, storedBand } from '$lib/storage/band';

/** Each part's slider, 0 … 1, and whether it is muted. */
type Sliders = Readonly<Record<Levelled, number>>;
type Mutes = Readonly<Record<Levelled, boolean>>;

export interface Accompaniment {
  /** No band, only what else is wished, where it is `none`. */
  readonly feel: FeelName | 'none';
  readonly sliders: Sliders;
  readonly muted: Mutes;
  /** Semitones by which the band alone is moved, as for an instrument in another key. */
  readonly transposed: number;
  /** As it was typed; empty for none. */
  readonly drone: string;
  /** Quarter notes a minute more (0 for none), each time after so many rounds. */
  readonly stepBy: number;
  readonly stepEvery: number;
}

const each = <Value>(value: (part: Levelled) => Value): Readonly<Record<Levelled, Value>> =>
  Object.fromEntries(LEVELLED.map((part) => [part, value(part)])) as Record<Levelled, Value>;

/** Semitones down and up by which a band can be moved. */
export const TRANSPOSED = [-11, 11] as const;

/** No sound that was not asked for: strings alone, and a click that waits to be switched on. */
export const USUAL: Accompaniment = {
  feel: 'none',
  sliders: each(() => USUAL_LEVEL),
  muted: each((part) => part === 'click'),
  transposed: 0,
  drone: '',
  stepBy: 0,
  stepEvery: 4,
};

const isNumber = (value: unknown, least: number, most: number): value is number =>
  typeof value === 'number' && value >= least && value <= most;

/** What was kept, as far as it is something that can be chosen. */
export function accompanimentFrom(kept: Readonly<Record<string, unknown>>): Accompaniment {
  const { feel, transposed, drone, stepBy, stepEvery } = kept;
  return {
    feel: FEEL_NAMES.find((name) => name === feel) ?? USUAL.feel,
    sliders: each((part) => {
      const level = kept[`level ${part}`];
      return isNumber(level, 0, 1) ? level : USUAL.sliders[part];
    }),
    muted: each((part) => {
      const muted = kept[`mute ${part}`];
      return typeof muted === 'boolean' ? muted : USUAL.muted[part];
    }),
    transposed: isNumber(transposed, ...TRANSPOSED) ? Math.round(transposed) : USUAL.transposed,
    drone: typeof drone === 'string' && droneOf(drone).ok ? drone : USUAL.drone,
    stepBy: isNumber(stepBy, -50, 50) ? stepBy : USUAL.stepBy,
    stepEvery: isNumber(stepEvery, 1, 99) ? Math.round(stepEvery) : USUAL.stepEvery,
  };
}

export class BandChoices {
  choices = $state.raw<Accompaniment>(accompanimentFrom(storedBand()));
  /** Called when something has been changed. */
  onchange: ((change: Partial<Accompaniment>) => void) | undefined;

  choose(change: Partial<Accompaniment>): void {
    this.choices = { ...this.choices, ...change };
    const { sliders, muted, ...rest } = this.choices;
    storeBand({
      ...rest,
      ...Object.fromEntries(LEVELLED.map((part) => [`level ${part}`, sliders[part]])),
      ...Object.fromEntries(LEVELLED.map((part) => [`mute ${part}`, muted[part]])),
    });
    this.onchange?.(change);
  }

  setSlider(part: Levelled, level: number): void {
    this.choose({ sliders: { ...this.choices.sliders, [part]: level } });
  }

  mute(part: Levelled, muted: boolean): void {
    this.choose({ muted: { ...this.choices.muted, [part]: muted } });
  }

  /** The levels that are heard. */
  get levels(): Levels {
    const { sliders, muted } = this.choices;
    return each((part) => (muted[part] ? 0 : sliders[part]));
  }

  /** What drones, as MIDI numbers. */
  get drone(): readonly number[] {
    const read = droneOf(this.choices.drone);
    return read.ok ? read.value : [];
  }
}
