/** Edits of what rigging and tuning ask of an instrument: lengths, ways, levers, drops, targets. */
import { refuse } from '$lib/result';
import type { Control, Setup } from '../setup';
import { edited, type Edited } from './edited';

/** A number that a player wrote; `undefined` where the text is empty, `NaN` where it is none. */
export function written(text: string): number | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (plain === '') return undefined;
  return /^[+-]?\d+(\.\d+)?$/.test(plain) ? Number(plain) : NaN;
}

/** The refusal of a text that is to be a number and is none. */
export const noNumber = (text: string): Edited => refuse(`“${text}” is no number.`);

/** An edit by a number as it is written; `undefined` where the text is empty. */
function byNumber(text: string, edit: (value: number | undefined) => Edited): Edited {
  const value = written(text);
  return Number.isNaN(value) ? noNumber(text) : edit(value);
}

/** Wire beyond nut and bridge; an empty text forgets it. */
export function setDeadLength(setup: Setup, text: string): Edited {
  const { deadLengthMm: _, ...rest } = setup;
  return byNumber(text, (mm) => edited(mm === undefined ? rest : { ...rest, deadLengthMm: mm }));
}

/** Radius of the changer finger; an empty text forgets it. */
export function setFingerRadius(setup: Setup, text: string): Edited {
  const { fingerRadiusMm: _, ...rest } = setup;
  return byNumber(text, (mm) => edited(mm === undefined ? rest : { ...rest, fingerRadiusMm: mm }));
}

function withControl(setup: Setup, id: string, change: (control: Control) => Control): Edited {
  if (!setup.controls.some((control) => control.id === id))
    return refuse(`There is no control ${id}.`);
  return edited({
    ...setup,
    controls: setup.controls.map((control) => (control.id === id ? change(control) : control)),
  });
}

/** What a player may measure of a control, or say of its use. */
export const CONTROL_FIGURES = [
  'travelMm',
  'forceN',
  'springN',
  'slackMm',
  'usage',
  'shaftMm',
  'turnDegrees',
  'mostTurnDegrees',
] as const;
/** One of them. */
export type ControlFigure = (typeof CONTROL_FIGURES)[number];

/** Sets a figure of a control; an empty text forgets it. */
export function setControlFigure(
  setup: Setup,
  id: string,
  figure: ControlFigure,
  text: string,
): Edited {
  return byNumber(text, (value) =>
    withControl(setup, id, ({ [figure]: _, ...rest }) =>
      value === undefined ? rest : { ...rest, [figure]: value },
    ),
  );
}

/** Rod against string of one pull. */
export function setLeverage(
  setup: Setup,
  id: string,
  neck: number,
  string: number,
  text: string,
): Edited {
  return byNumber(text, (ratio) =>
    withControl(setup, id, (control) => ({
      ...control,
      pulls: control.pulls.map((pull) => {
        if (pull.neck !== neck || pull.string !== string) return pull;
        const { leverage: _, ...rest } = pull;
        return ratio === undefined ? rest : { ...rest, leverage: ratio };
      }),
    })),
  );
}

/** By how many cents a string falls under a control that does not pull it. */
export function setDrop(
  setup: Setup,
  id: string,
  neck: number,
  string: number,
  text: string,
): Edited {
  return byNumber(text, (cents) =>
    withControl(setup, id, ({ drops = [], ...rest }) => {
      const others = drops.filter((drop) => drop.neck !== neck || drop.string !== string);
      const all =
        cents === undefined || cents === 0 ? others : [...others, { neck, string, cents }];
      return all.length === 0 ? rest : { ...rest, drops: all };
    }),
  );
}
