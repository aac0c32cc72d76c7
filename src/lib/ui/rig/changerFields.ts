/** What the owner knows of the changer, the cross shafts and the rods, as fields. */
import {
  setChangerFigure,
  setChangerHoles,
  setRodHole,
  type ChangerFigure,
  type ChangerHoles,
} from '$lib/setup/edits/changer';
import type { Control, Setup } from '$lib/setup/setup';
import { unitSign } from '$lib/strings/fieldUnits';
import { stringWords } from '$lib/strings/rig/text';
import type { Units } from '$lib/strings/units';
import type { FigureField } from '$lib/ui/kit/figureField';
import {
  controlFields,
  fingerRadiusField,
  SLACK,
  TRAVEL,
  type ControlMeasure,
} from '$lib/ui/strings/measuredFields';
import { holesText, keptHoles } from './holesText';

const COUNTS: readonly (readonly [ChangerFigure, ChangerHoles, string])[] = [
  ['raises', 'raiseHolesMm', 'Raises of a finger'],
  ['lowers', 'lowerHolesMm', 'Lowers of a finger'],
];
const HOLES: readonly (readonly [ChangerHoles, string, string])[] = [
  ['raiseHolesMm', 'Raise holes', 'from the axle, nearest first'],
  ['lowerHolesMm', 'Lower holes', 'from the axle, nearest first'],
  ['crankHolesMm', 'Crank holes', 'from the middle of the shaft, nearest first'],
];
const LENGTHS: readonly (readonly [ChangerFigure, string, string])[] = [
  ['shaftDepthMm', 'Depth of the cross shafts', 'below the axle'],
  ['shaftThickMm', 'Cross shafts', 'how thick'],
  ['rodMm', 'Rods', 'how thick'],
];
const OF_SHAFT: readonly ControlMeasure[] = [
  ['shaftMm', 'Cross shaft', 'from the axle', 'length'],
  TRAVEL,
  SLACK,
  ['turnDegrees', 'Turn', 'degrees, as the stop is set'],
  ['mostTurnDegrees', 'Most turn', 'degrees, stop let out'],
];

/** How many raises and lowers, the holes, and how thick things are. */
export function changerFields(setup: Setup, units: Units): readonly FigureField[] {
  const sign = unitSign('length', units);
  const { changer } = setup;
  return [
    ...COUNTS.map(([figure, holes, label]): FigureField => {
      const bored = changer?.[holes]?.length;
      return {
        label,
        hint: bored === undefined ? 'how many' : `${bored}, by its holes`,
        kept: changer?.[figure],
        edit: label.toLowerCase(),
        set: (each, text) => setChangerFigure(each, figure, text),
      };
    }),
    ...HOLES.map(([holes, label, hint]): FigureField => ({
      label,
      hint: `${sign} ${hint}`,
      kept: holesText(changer?.[holes], units),
      edit: label.toLowerCase(),
      set: (each, text) => setChangerHoles(each, holes, keptHoles(text, units)),
    })),
    fingerRadiusField(setup),
    ...LENGTHS.map(([figure, label, hint]): FigureField => ({
      label,
      hint,
      quantity: 'length',
      kept: changer?.[figure],
      edit: label.toLowerCase(),
      set: (each, text) => setChangerFigure(each, figure, text),
    })),
  ];
}

/** Where the cross shaft of a control is, and how far it turns. */
export const shaftFields = (control: Control): readonly FigureField[] =>
  controlFields(control, OF_SHAFT);

const ENDS = [
  ['hole', 'finger hole', 'from the axle, 1 first'],
  ['crank', 'crank hole', 'from the shaft, 1 first'],
] as const;

/** The holes in which the two ends of every rod lie today. */
export const rodFields = ({ necks, controls }: Setup): readonly FigureField[] =>
  controls.flatMap(({ id, pulls }) =>
    pulls.flatMap((pull) => {
      const { neck, string } = pull;
      const words = stringWords(necks.length, neck, string);
      return ENDS.map(([end, name, hint]): FigureField => ({
        label: `${id}, ${words}: ${name}`,
        hint,
        kept: pull[end],
        edit: `${name} of ${id} on ${words}`,
        set: (setup, text) => setRodHole(setup, { control: id, neck, string }, end, text),
      }));
    }),
  );
