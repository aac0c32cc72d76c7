/** What a player holds: bar, controls, strings; and what becomes of it when one of them changes. */
import { engageWith, unreachable, type Choice } from '$lib/setup/reach';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import { stoppedBy } from '$lib/search/slants';

export interface Touched {
  /** From 1. */
  readonly neck: number;
  readonly fret: number;
  readonly engaged: readonly Engaged[];
  /** Frets by which the bar's far end leads; 0 or left out is straight. */
  readonly slant?: number;
  /** From 1, ascending. */
  readonly strings: readonly number[];
}

/** Frets ahead at each picked string under a slanted bar; `undefined` where no slant fits the grip. */
export function fretsAheadOf({ slant = 0, strings }: Touched): readonly number[] | undefined {
  if (slant === 0) return undefined;
  return stoppedBy(
    strings.reduce((grip, string) => grip | (1 << (string - 1)), 0),
    slant,
  );
}

/** Is the bar on the neck at every picked string, and each of them stopped on a fret? */
export function fits(setup: Setup, touched: Touched): boolean {
  if ((touched.slant ?? 0) === 0) return touched.fret >= 0 && touched.fret <= setup.frets;
  const stops = fretsAheadOf(touched)?.map((frets) => touched.fret + frets);
  return stops?.every((fret) => fret >= 1 && fret <= setup.frets) ?? false;
}

/** The same hold with the bar straightened where its slant does not fit any more. */
export const straightened = (setup: Setup, touched: Touched): Touched =>
  fits(setup, touched) ? touched : { ...touched, slant: 0 };

/** The same hold as far as a setup has the necks, frets and strings for it. */
export function within(setup: Setup, touched: Touched): Touched {
  const neck = Math.max(1, Math.min(touched.neck, setup.necks.length));
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  const strings = touched.strings.filter((string) => string <= count);
  const fret = Math.max(0, Math.min(touched.fret, setup.frets));
  return straightened(setup, { ...touched, neck, fret, strings });
}

/** A string is picked, or left out. */
export function picked(setup: Setup, touched: Touched, string: number): Touched {
  const { strings } = touched;
  return straightened(setup, {
    ...touched,
    strings: strings.includes(string)
      ? strings.filter((each) => each !== string)
      : [...strings, string].sort((a, b) => a - b),
  });
}

/** As many of these as can be held at once, the first ones first. */
const holdable = (setup: Setup, engaged: Choice): Choice =>
  engaged.reduce<Choice>(
    (kept, each) => (unreachable(setup, [...kept, each]) === undefined ? [...kept, each] : kept),
    [],
  );

/**
 * A control is touched: from off to full, to half where there is a half-stop, and off again. What
 * cannot be held with it is let go, with the reason in words.
 */
export function pressed(
  setup: Setup,
  touched: Touched,
  id: string,
): { readonly touched: Touched; readonly letGo: string } {
  const control = setup.controls.find((each) => each.id === id);
  if (control === undefined) return { touched, letGo: '' };
  const now = touched.engaged.find((each) => each.id === id)?.state;
  if (now === 'half' || (now === 'full' && !hasHalf(control))) {
    const rest = touched.engaged.filter((each) => each.id !== id);
    // without the middle of three pedals the outer two cannot be held
    const reachable = unreachable(setup, rest) === undefined;
    return {
      touched: { ...touched, engaged: reachable ? rest : holdable(setup, rest) },
      letGo: '',
    };
  }
  const state = now === 'full' ? 'half' : 'full';
  const { engaged, letGo } = engageWith(setup, touched.engaged, { id, state });
  return {
    touched: { ...touched, engaged },
    letGo: letGo.map((each) => `${each.id} let go: ${each.because}.`).join(' '),
  };
}
