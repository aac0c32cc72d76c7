/** What may be measured on an instrument beside its copedent, as fields: lengths, forces, use, leverage. */
import {
  setControlFigure,
  setDeadLength,
  setFingerRadius,
  setLeverage,
  type ControlFigure,
} from '$lib/setup/edits/rigging';
import type { Control, Setup } from '$lib/setup/setup';
import type { Quantity } from '$lib/strings/fieldUnits';
import type { FigureField } from '$lib/ui/kit/figureField';

/** A figure of a control: its name, its hint, and what it is of, where the reader's unit counts. */
export type ControlMeasure = readonly [ControlFigure, string, string, Quantity?];

/** Travel is asked for wherever a control is measured. */
export const TRAVEL: ControlMeasure = ['travelMm', 'Travel', 'at foot or knee', 'length'];
export const SLACK: ControlMeasure = ['slackMm', 'Slack', 'before a string moves', 'length'];
const MEASURES: readonly ControlMeasure[] = [
  ['forceN', 'Force', 'mean at foot, knee or hand', 'force'],
  ['springN', 'Spring', 'with no string hooked up', 'force'],
  SLACK,
  ['usage', 'Use', 'times, against the others'],
];

/** The fields of a control. */
export const controlFields = (
  control: Control,
  measures: readonly ControlMeasure[],
): readonly FigureField[] =>
  measures.map(([figure, name, hint, quantity]): FigureField => ({
    label: `${name} of ${control.id}`,
    hint,
    ...(quantity === undefined ? {} : { quantity }),
    kept: control[figure],
    edit: `${name.toLowerCase()} of ${control.id}`,
    set: (setup, text) => setControlFigure(setup, control.id, figure, text),
  }));

/** Forces, springs, slack and use of a control. */
export const measuredFields = (control: Control): readonly FigureField[] =>
  controlFields(control, MEASURES);

/** The radius that strings bend over. */
export const fingerRadiusField = ({ fingerRadiusMm }: Setup): FigureField => ({
  label: 'Radius of the changer finger',
  hint: 'over which strings bend',
  quantity: 'length',
  kept: fingerRadiusMm,
  edit: 'radius of the changer finger',
  set: setFingerRadius,
});

/** What concerns the strings as a whole, and the travel of every control. */
export const lengthFields = (setup: Setup): readonly FigureField[] => [
  {
    label: 'Wire beyond nut and bridge',
    hint: 'that stretches along',
    quantity: 'length',
    kept: setup.deadLengthMm,
    edit: 'dead length of the strings',
    set: setDeadLength,
  },
  fingerRadiusField(setup),
  ...setup.controls.flatMap((control) => controlFields(control, [TRAVEL])),
];

/** The leverage of every pull. */
export const leverageFields = ({ necks, controls }: Setup): readonly FigureField[] =>
  controls.flatMap(({ id, pulls }) =>
    pulls.map(({ neck, string, leverage }): FigureField => {
      const of = necks.length > 1 ? ` of ${necks[neck - 1]?.name ?? ''}` : '';
      return {
        label: `${id}, string ${string}${of}`,
        kept: leverage,
        edit: `leverage of ${id} on string ${string}${of}`,
        set: (setup, text) => setLeverage(setup, id, neck, string, text),
      };
    }),
  );
