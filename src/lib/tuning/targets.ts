/** Targets: what each string, each pull and each split is set to, in cents and in hertz. */
import { hzOf, type Midi } from '$lib/theory/pitch';
import type { Pull, Setup } from '$lib/setup/setup';
import type { Place } from '$lib/setup/stretch';
import { savedAt } from '$lib/setup/targets';
import type { Given } from './fit';
import { sameStop, type Stop } from './stops';

export { savedAt } from '$lib/setup/targets';

/** A stop and where it ought to lie. */
export interface Target extends Stop {
  /** From equal temperament at the setup's reference pitch. */
  readonly cents: number;
  readonly hz: number;
  /** What it was given because no chord decides it; nothing where one does, or where none is asked. */
  readonly given?: Given;
}

/** The frequency of a note that lies some cents off equal temperament. */
export const targetHz = (midi: Midi, cents: number, referenceHz: number): number =>
  hzOf(midi, referenceHz) * 2 ** (cents / 1200);

/**
 * Every stop with its target: `offsets` are cents from equal temperament in the order of the stops, 0
 * where one is missing, and `given` what those were given that no chord decides; hertz come from the
 * reference pitch of the setup.
 */
export const targetsOf = (
  setup: Setup,
  stops: readonly Stop[],
  offsets: ArrayLike<number>,
  given: readonly (Given | undefined)[] = [],
): Target[] =>
  stops.map((stop, index) => {
    const cents = offsets[index] ?? 0;
    const instead = given[index];
    return {
      ...stop,
      cents,
      hz: targetHz(stop.midi, cents, setup.referenceHz),
      ...(instead === undefined ? {} : { given: instead }),
    };
  });

/** The targets that a setup itself carries; what it does not tell is at equal temperament. */
export function savedOffsets(setup: Setup, stops: readonly Stop[]): Float64Array {
  return Float64Array.from(stops, (stop) => savedAt(setup, stop) ?? 0);
}

/** Does a setup carry a target for any string, pull, half-stop or split? */
export const hasSaved = (setup: Setup): boolean =>
  setup.necks.some(({ strings }) => strings.some(({ cents }) => cents !== undefined)) ||
  setup.controls.some(({ pulls }) =>
    pulls.some((pull) =>
      [pull.cents, pull.halfCents, pull.splitCents].some((cents) => cents !== undefined),
    ),
  );

/** A target to be written into a setup; `undefined` takes it out. */
export interface WrittenTarget extends Place {
  readonly cents: number | undefined;
}

/** As a setup file keeps them: tenths of a cent, within what the format allows. */
const rounded = (cents: number): number =>
  Math.max(-100, Math.min(100, Math.round(cents * 10) / 10)) + 0;

const changed = <T extends object, K extends 'cents' | 'halfCents' | 'splitCents'>(
  of: T & { readonly [key in K]?: number },
  key: K,
  cents: number | undefined,
): T => {
  const { [key]: _, ...rest } = of;
  return { ...rest, ...(cents === undefined ? {} : { [key]: rounded(cents) }) } as unknown as T;
};

/** The same setup with some targets written into it. */
export function withTargets(setup: Setup, targets: readonly WrittenTarget[]): Setup {
  const written = (stop: Place): WrittenTarget | undefined =>
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
        // one split stop a lower, whichever raise it is tuned with
        const split = targets.find(
          ({ raisedBy, ...target }) =>
            raisedBy !== undefined && sameStop(target, { ...at, state: 'full' }),
        );
        const first = full ? changed(pull, 'cents', full.cents) : pull;
        const second = half ? changed(first, 'halfCents', half.cents) : first;
        return split ? changed(second, 'splitCents', split.cents) : second;
      }),
    })),
  };
}
