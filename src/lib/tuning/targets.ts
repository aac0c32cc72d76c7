/** Targets: what each string, each pull and each split is set to, in cents and in hertz. */
import { hzOf, type Midi } from '$lib/theory/pitch';
import { unreachable } from '$lib/setup/reach';
import type { Engaged, Pull, Setup } from '$lib/setup/setup';
import { offsetSum, sameStop, valueOf, type Stop } from './stops';

/** A stop and where it ought to lie. */
export interface Target extends Stop {
  /** From equal temperament at the setup's reference pitch. */
  readonly cents: number;
  readonly hz: number;
}

const targetHz = (midi: Midi, cents: number, referenceHz: number): number =>
  hzOf(midi, referenceHz) * 2 ** (cents / 1200);

/**
 * Every stop with its target: `offsets` are cents from equal temperament in the order of the stops, 0
 * where one is missing; hertz come from the reference pitch of the setup.
 */
export const targetsOf = (
  setup: Setup,
  stops: readonly Stop[],
  offsets: ArrayLike<number>,
): Target[] =>
  stops.map((stop, index) => {
    const cents = offsets[index] ?? 0;
    return { ...stop, cents, hz: targetHz(stop.midi, cents, setup.referenceHz) };
  });

/** The targets that a setup itself carries; what it does not tell is at equal temperament. */
export function savedOffsets(setup: Setup, stops: readonly Stop[]): Float64Array {
  return Float64Array.from(stops, (stop) => savedAt(setup, stop) ?? 0);
}

/** The target of a stop as the setup tells it, in cents; nothing where it does not. */
export function savedAt(setup: Setup, stop: Omit<Stop, 'midi'>): number | undefined {
  if (stop.control === null) return setup.necks[stop.neck - 1]?.strings[stop.string - 1]?.cents;
  const pull = setup.controls
    .find(({ id }) => id === stop.control)
    ?.pulls.find(({ neck, string }) => neck === stop.neck && string === stop.string);
  return stop.state === 'half' ? pull?.halfCents : pull?.cents;
}

/** Does a setup carry a target for any string, pull or half-stop? */
export const hasSaved = (setup: Setup): boolean =>
  setup.necks.some(({ strings }) => strings.some(({ cents }) => cents !== undefined)) ||
  setup.controls.some(({ pulls }) =>
    pulls.some(({ cents, halfCents }) => cents !== undefined || halfCents !== undefined),
  );

/** A target to be written into a setup; `undefined` takes it out. */
export interface WrittenTarget extends Omit<Stop, 'midi'> {
  readonly cents: number | undefined;
}

/** As a setup file keeps them: tenths of a cent, within what the format allows. */
const rounded = (cents: number): number =>
  Math.max(-100, Math.min(100, Math.round(cents * 10) / 10)) + 0;

const changed = <T extends object, K extends 'cents' | 'halfCents'>(
  of: T & { readonly [key in K]?: number },
  key: K,
  cents: number | undefined,
): T => {
  const { [key]: _, ...rest } = of;
  return { ...rest, ...(cents === undefined ? {} : { [key]: rounded(cents) }) } as unknown as T;
};

/** The same setup with some targets written into it. */
export function withTargets(setup: Setup, targets: readonly WrittenTarget[]): Setup {
  const written = (stop: Omit<Stop, 'midi'>): WrittenTarget | undefined =>
    targets.find((target) => sameStop(target, stop));
  return {
    ...setup,
    necks: setup.necks.map((neck, n) => ({
      ...neck,
      strings: neck.strings.map((string, s) => {
        const at = { neck: n + 1, string: s + 1, control: null, state: 'full' } as const;
        const target = written(at);
        return target ? changed(string, 'cents', target.cents) : string;
      }),
    })),
    controls: setup.controls.map((control) => ({
      ...control,
      pulls: control.pulls.map((pull): Pull => {
        const at = { neck: pull.neck, string: pull.string, control: control.id };
        const full = written({ ...at, state: 'full' });
        const half = written({ ...at, state: 'half' });
        const first = full ? changed(pull, 'cents', full.cents) : pull;
        return half ? changed(first, 'halfCents', half.cents) : first;
      }),
    })),
  };
}

/** A raise and a lower on one string at once. It has no stop of its own: it is the sum of theirs. */
export interface Split {
  readonly neck: number;
  readonly string: number;
  readonly engaged: readonly [Engaged, Engaged];
  readonly midi: Midi;
  readonly cents: number;
  readonly hz: number;
}

/** Every split of a neck that the body can reach. */
export function splitsOf(
  setup: Setup,
  neck: number,
  stops: readonly Stop[],
  offsets: ArrayLike<number>,
): Split[] {
  const open = setup.necks[neck - 1]?.strings ?? [];
  const pulled = stops.filter(({ control }) => control !== null);
  const way = ({ midi, string }: Stop): number => midi - (open[string - 1]?.open.midi ?? 0);
  return pulled.flatMap((raise) =>
    pulled.flatMap((lower): Split[] => {
      if (raise.string !== lower.string || way(raise) <= 0 || way(lower) >= 0) return [];
      if (raise.control === null || lower.control === null) return [];
      const engaged = [
        { id: raise.control, state: raise.state },
        { id: lower.control, state: lower.state },
      ] as const;
      if (raise.control === lower.control || unreachable(setup, engaged) !== undefined) return [];
      const midi = raise.midi + way(lower);
      const cents = valueOf(offsetSum(setup, stops, neck, raise.string, engaged), offsets);
      const hz = targetHz(midi, cents, setup.referenceHz);
      return [{ neck, string: raise.string, engaged, midi, cents, hz }];
    }),
  );
}
