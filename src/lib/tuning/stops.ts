/**
 * What can be set on an instrument: every open string, and the stop of every pull, full and half. Each
 * is free of the others; what a combination sounds is a sum of them.
 */
import type { Midi } from '$lib/theory/pitch';
import { pullIn, type ControlState, type Engaged, type Setup } from '$lib/setup/setup';
import { loadIn } from '$lib/setup/targets';

export interface Stop {
  /** From 1. */
  readonly neck: number;
  readonly string: number;
  /** The id of the control; `null` is the open string. */
  readonly control: string | null;
  readonly state: ControlState;
  /** What sounds there. */
  readonly midi: Midi;
}

/** The stops of a neck: strings first, then the pulls in the order of the setup, half before full. */
export function stopsOf(setup: Setup, neck: number): Stop[] {
  const strings = setup.necks[neck - 1]?.strings ?? [];
  const open = strings.map(({ open }, index): Stop => ({
    neck,
    string: index + 1,
    control: null,
    state: 'full',
    midi: open.midi,
  }));
  const pulled = setup.controls.flatMap(({ id, pulls }) =>
    pulls
      .filter((pull) => pull.neck === neck)
      .flatMap((pull) =>
        (pull.half === undefined ? (['full'] as const) : (['half', 'full'] as const)).map(
          (state): Stop => ({
            neck,
            string: pull.string,
            control: id,
            state,
            midi: (strings[pull.string - 1]?.open.midi ?? 0) + pullIn(pull, state),
          }),
        ),
      ),
  );
  return [...open, ...pulled];
}

/** Are they the same stop: string, control and state? Strings and necks are numbered from 1. */
export const sameStop = (a: Omit<Stop, 'midi'>, b: Omit<Stop, 'midi'>): boolean =>
  a.neck === b.neck && a.string === b.string && a.control === b.control && a.state === b.state;

/** A sum of stops' offsets, with what the body adds: the offset of a string under a combination. */
export interface OffsetSum {
  /** Stops by their index in `stopsOf`, each with its factor. */
  readonly terms: readonly (readonly [stop: number, factor: number])[];
  /** Cents that no stop can change: the fall under other controls' load, negative. */
  readonly constant: number;
}

/**
 * The offset of a string under engaged controls: that of the open string; under a raise or a lower that
 * of its stop; under a split the raise's and the lower's, less the open string's, since each stop adds
 * its own way to the open string. Of two raises the farther counts, of equal ones the first.
 */
export function offsetSum(
  setup: Setup,
  stops: readonly Stop[],
  neck: number,
  string: number,
  engaged: readonly Engaged[],
): OffsetSum {
  let raise: { stop: number; move: number } | undefined;
  let lower: { stop: number; move: number } | undefined;
  let constant = 0;
  for (const { id, state } of engaged) {
    const control = setup.controls.find((each) => each.id === id);
    for (const pull of control?.pulls ?? []) {
      if (pull.neck !== neck || pull.string !== string) continue;
      const move = pullIn(pull, state);
      const index = stops.findIndex((stop) => sameStop(stop, { neck, string, control: id, state }));
      if (move > (raise?.move ?? 0)) raise = { stop: index, move };
      if (move < (lower?.move ?? 0)) lower = { stop: index, move };
    }
    for (const drop of control?.drops ?? [])
      if (drop.neck === neck && drop.string === string) constant -= drop.cents * loadIn(state);
  }
  const open = stops.findIndex((stop) =>
    sameStop(stop, { neck, string, control: null, state: 'full' }),
  );
  const pulled = [raise, lower].flatMap((each) => (each ? [[each.stop, 1] as const] : []));
  return {
    terms: pulled.length === 1 ? pulled : [[open, 1 - pulled.length], ...pulled],
    constant,
  };
}

/** The value of a sum under offsets by stop. */
export const valueOf = ({ terms, constant }: OffsetSum, offsets: ArrayLike<number>): number =>
  terms.reduce((sum, [stop, factor]) => sum + factor * (offsets[stop] ?? 0), constant);
