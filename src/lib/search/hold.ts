/**
 * What hands and feet do: where the bar lies, which controls are engaged, which strings are picked; and
 * what becomes of it when one of them changes.
 */
import type { Midi } from '$lib/theory/pitch';
import { engageWith, unreachable, type Choice } from '$lib/setup/reach';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { gripOf } from './grip';
import { stoppedBy } from './slants';

/** Where the steel lies. */
export interface Bar {
  /** From 1. */
  readonly neck: number;
  /** Under a slanted bar the fret of the grip's nearest string. */
  readonly fret: number;
  /** Frets by which the bar's far end leads, −2 … 2; 0 is straight. */
  readonly slant: number;
}

/** A hold of hands and feet. */
export interface Hold extends Bar {
  readonly engaged: readonly Engaged[];
  /** The strings that are picked, from 1, ascending. */
  readonly strings: readonly number[];
}

/** Frets ahead at each picked string under a slanted bar; `undefined` where no slant fits the grip. */
export const fretsAheadOf = ({ slant, strings }: Hold): readonly number[] | undefined =>
  slant === 0 ? undefined : stoppedBy(gripOf(strings), slant);

/** What the picked strings sound, in their order. */
export function pitchesOf(setup: Setup, hold: Hold): Midi[] {
  const { neck, engaged, fret, strings } = hold;
  const all = sounding(setup, neck, engaged, fret);
  const ahead = fretsAheadOf(hold);
  return strings.map((string, stop) => (all[string - 1] ?? 0) + (ahead?.[stop] ?? 0));
}

/** Is the bar on the neck at every picked string, and each of them stopped on a fret? */
export function fits(setup: Setup, hold: Hold): boolean {
  if (hold.slant === 0) return hold.fret >= 0 && hold.fret <= setup.frets;
  const stops = fretsAheadOf(hold)?.map((frets) => hold.fret + frets);
  return stops?.every((fret) => fret >= 1 && fret <= setup.frets) ?? false;
}

/** The same hold with the bar straightened where its slant does not fit any more. */
export const straightened = (setup: Setup, hold: Hold): Hold =>
  fits(setup, hold) ? hold : { ...hold, slant: 0 };

/** The same hold as far as a setup has the necks, frets and strings for it. */
export function within(setup: Setup, hold: Hold): Hold {
  const neck = Math.max(1, Math.min(hold.neck, setup.necks.length));
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  const strings = hold.strings.filter((string) => string <= count);
  const fret = Math.max(0, Math.min(hold.fret, setup.frets));
  return straightened(setup, { ...hold, neck, fret, strings });
}

/**
 * The same hold on a setup that has been edited: controls are let go where one of them is gone or they
 * cannot be engaged together any more.
 */
export function carried(setup: Setup, hold: Hold): Hold {
  const known = hold.engaged.every(({ id }) => setup.controls.some((each) => each.id === id));
  const reachable = known && unreachable(setup, hold.engaged) === undefined;
  return within(setup, { ...hold, engaged: reachable ? hold.engaged : [] });
}

/** A string is picked, or left out. */
export function picked(setup: Setup, hold: Hold, string: number): Hold {
  const { strings } = hold;
  return straightened(setup, {
    ...hold,
    strings: strings.includes(string)
      ? strings.filter((each) => each !== string)
      : [...strings, string].sort((a, b) => a - b),
  });
}

/** As many of these as can be held at once, the first ones first. */
const holdable = (setup: Setup, engaged: Choice): Choice =>
  engaged.reduce<Choice>(
    (held, each) => (unreachable(setup, [...held, each]) === undefined ? [...held, each] : held),
    [],
  );

/**
 * A control is pressed: from off to full, to half where there is a half-stop, and off again. What
 * cannot be held with it is let go, with the reason in words.
 */
export function pressed(
  setup: Setup,
  hold: Hold,
  id: string,
): { readonly hold: Hold; readonly letGo: string } {
  const control = setup.controls.find((each) => each.id === id);
  if (control === undefined) return { hold, letGo: '' };
  const now = hold.engaged.find((each) => each.id === id)?.state;
  if (now === 'half' || (now === 'full' && !hasHalf(control))) {
    const rest = hold.engaged.filter((each) => each.id !== id);
    // without the middle of three pedals the outer two cannot be held
    const reachable = unreachable(setup, rest) === undefined;
    return {
      hold: { ...hold, engaged: reachable ? rest : holdable(setup, rest) },
      letGo: '',
    };
  }
  const state = now === 'full' ? 'half' : 'full';
  const { engaged, letGo } = engageWith(setup, hold.engaged, { id, state });
  return {
    hold: { ...hold, engaged },
    letGo: letGo.map((each) => `${each.id} let go: ${each.because}.`).join(' '),
  };
}
