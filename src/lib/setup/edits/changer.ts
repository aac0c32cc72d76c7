/** Edits of the rig: what the changer has, and the holes in which rods lie. */
import { refuse } from '$lib/result';
import type { Changer, Control, Pull, Setup } from '../setup';
import { edited, type Edited } from './edited';
import { noNumber, written } from './rigging';

/** What is one number of a changer. */
const CHANGER_FIGURES = ['raises', 'lowers', 'shaftDepthMm', 'shaftThickMm', 'rodMm'] as const;
export type ChangerFigure = (typeof CHANGER_FIGURES)[number];
/** What is a row of holes of a changer: millimetres each. */
const CHANGER_HOLES = ['raiseHolesMm', 'lowerHolesMm', 'crankHolesMm'] as const;
export type ChangerHoles = (typeof CHANGER_HOLES)[number];

function withChanger(setup: Setup, change: (changer: Changer) => Changer): Edited {
  const { changer, ...rest } = setup;
  const next = change(changer ?? {});
  return edited(Object.keys(next).length === 0 ? rest : { ...rest, changer: next });
}

/** Sets a number of the changer; an empty text forgets it. */
export function setChangerFigure(setup: Setup, figure: ChangerFigure, text: string): Edited {
  const value = written(text);
  if (Number.isNaN(value)) return noNumber(text);
  return withChanger(setup, ({ [figure]: _, ...rest }) =>
    value === undefined ? rest : { ...rest, [figure]: value },
  );
}

/**
 * Sets a row of holes from numbers with spaces, commas or semicolons between; an empty text forgets it. A number of raises or
 * lowers that was told by itself goes, since the holes tell it.
 */
export function setChangerHoles(setup: Setup, holes: ChangerHoles, text: string): Edited {
  const parts = text.split(/[;,\s]+/).filter(Boolean);
  const values = parts.map((part) => written(part));
  const wrong = values.findIndex((value) => value === undefined || Number.isNaN(value));
  if (wrong >= 0) return noNumber(parts[wrong] ?? '');
  const told = values.flatMap((value) => value ?? []);
  return withChanger(setup, ({ [holes]: _, ...rest }) => {
    if (told.length === 0) return rest;
    const { raises, lowers, ...others } = rest;
    return {
      ...others,
      ...(raises === undefined || holes === 'raiseHolesMm' ? {} : { raises }),
      ...(lowers === undefined || holes === 'lowerHolesMm' ? {} : { lowers }),
      [holes]: told,
    };
  });
}

const withPulls = (setup: Setup, change: (pull: Pull, control: Control) => Pull): Edited =>
  edited({
    ...setup,
    controls: setup.controls.map((control) => ({
      ...control,
      pulls: control.pulls.map((pull) => change(pull, control)),
    })),
  });

/** Sets the hole that a rod lies in today, at the finger or at its crank; an empty text forgets it. */
export function setRodHole(
  setup: Setup,
  at: { readonly control: string; readonly neck: number; readonly string: number },
  which: 'hole' | 'crank',
  text: string,
): Edited {
  const value = written(text);
  if (Number.isNaN(value)) return noNumber(text);
  const there = setup.controls.some(
    ({ id, pulls }) =>
      id === at.control &&
      pulls.some(({ neck, string }) => neck === at.neck && string === at.string),
  );
  if (!there) return refuse(`${at.control} does not pull string ${at.string}.`);
  return withPulls(setup, (pull, { id }) => {
    if (id !== at.control || pull.neck !== at.neck || pull.string !== at.string) return pull;
    const { [which]: _, ...rest } = pull;
    return value === undefined ? rest : { ...rest, [which]: value };
  });
}

/** A rod's holes. */
export interface RodHoles {
  readonly control: string;
  readonly neck: number;
  readonly string: number;
  readonly hole: number;
  readonly crank: number;
}

/** Takes holes down as those of today's rig. */
export const keepRods = (setup: Setup, rods: readonly RodHoles[]): Edited =>
  withPulls(setup, (pull, { id }) => {
    const rod = rods.find(
      ({ control, neck, string }) => control === id && neck === pull.neck && string === pull.string,
    );
    return rod === undefined ? pull : { ...pull, hole: rod.hole, crank: rod.crank };
  });

/** Forgets the holes of all rods, so that they are free to be chosen. */
export const freeRods = (setup: Setup): Edited =>
  withPulls(setup, ({ hole: _hole, crank: _crank, ...pull }) => pull);
