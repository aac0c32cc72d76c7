/** Edits of one cell of the chart: what a control does to a string. */
import { refuse } from '$lib/result';
import { mayHalt } from '../halfStops';
import type { Control, Pull, Setup } from '../setup';
import { BOUNDS } from '../bounds';
import { edited, type Edited } from './edited';
import { readTravel, type Travel } from './travelText';

/** A cell of the chart. */
export interface Cell {
  readonly id: string;
  /** From 1. */
  readonly neck: number;
  readonly string: number;
}

/** The pull in a cell; `undefined` where the control does not pull that string. */
export const pullAt = (setup: Setup, { id, neck, string }: Cell): Pull | undefined =>
  setup.controls
    .find((control) => control.id === id)
    ?.pulls.find((pull) => pull.neck === neck && pull.string === string);

/** Pulls in the order of the strings. */
const inOrder = (pulls: readonly Pull[]): Pull[] =>
  [...pulls].sort((a, b) => a.neck - b.neck || a.string - b.string);

/** The pull with another travel; its notes and tuning target stay with it. */
function withTravel(control: Control, { neck, string }: Cell, travel: Travel | undefined): Control {
  const here = (pull: Pull): boolean => pull.neck === neck && pull.string === string;
  const others = control.pulls.filter((pull) => !here(pull));
  if (travel === undefined) return { ...control, pulls: others };
  const now: Partial<Pull> = control.pulls.find(here) ?? {};
  const { half: _, halfCents, splitCents, ...rest } = now;
  const stop = {
    ...(travel.half === undefined || halfCents === undefined ? {} : { halfCents }),
    ...(travel.semitones > 0 || splitCents === undefined ? {} : { splitCents }),
  };
  const { drops, ...withoutDrops } = control;
  return {
    ...withoutDrops,
    pulls: inOrder([...others, { neck, string, ...rest, ...travel, ...stop }]),
    // what the control pulls does not merely fall
    ...(drops === undefined
      ? {}
      : { drops: drops.filter((drop) => drop.neck !== neck || drop.string !== string) }),
  };
}

function setTravel(setup: Setup, cell: Cell, travel: Travel | undefined): Edited {
  if (!setup.controls.some(({ id }) => id === cell.id))
    return refuse(`There is no control ${cell.id}.`);
  return edited({
    ...setup,
    controls: setup.controls.map((control) =>
      control.id === cell.id ? withTravel(control, cell, travel) : control,
    ),
  });
}

/** Sets a pull from what a player wrote; an empty text takes it away. */
export function setPull(setup: Setup, cell: Cell, text: string): Edited {
  const open = setup.necks[cell.neck - 1]?.strings[cell.string - 1]?.open;
  if (open === undefined) return refuse(`There is no string ${cell.string}.`);
  const travel = readTravel(text, open);
  return travel.ok ? setTravel(setup, cell, travel.value) : travel;
}

/**
 * Sets how far a pull goes, 0 for no pull. A half-stop stays where it is while it lies on the way.
 */
export function movePull(setup: Setup, cell: Cell, semitones: number): Edited {
  const half = pullAt(setup, cell)?.half;
  const stays = half !== undefined && mayHalt(semitones, half);
  return setTravel(
    setup,
    cell,
    semitones === 0 ? undefined : { semitones, ...(stays ? { half } : {}) },
  );
}

/** One semitone further up or down; beyond the last stop nothing changes. */
export function nudgePull(setup: Setup, cell: Cell, by: 1 | -1): Edited {
  const [least, most] = BOUNDS.semitones;
  const now = pullAt(setup, cell)?.semitones ?? 0;
  return movePull(setup, cell, Math.max(least, Math.min(most, now + by)));
}
