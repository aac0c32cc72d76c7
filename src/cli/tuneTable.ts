/** A tune in a texture as a person reads it in a terminal. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { spelled } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import { progressionFaultText, type ProgressionFault } from '$lib/arrange/progression';
import type { TuneArrangement, TuneStep, TuneWay } from '$lib/arrange/tune';
import { lackText } from '$lib/answers/tuneText';
import { numberText, print, table } from './out';

/** Columns of a table of steps, and those that are set flush right. */
export const TUNE_HEADING = [
  'measure',
  'beat',
  'chord',
  'fret',
  'controls',
  'strings',
  'held',
  'move',
];
export const TUNE_RIGHT = [0, 1, 3, 6, 7];

/** `5 G4 pull`; a string that is picked needs no word. */
const stringsText = ({ strings, tones }: TuneStep): string =>
  strings
    .map(({ string, pitch, reached }) =>
      [string, prettyPitch(spelled(tones, pitch)), reached === 'picked' ? '' : reached]
        .join(' ')
        .trim(),
    )
    .join(', ');

/** The steps of a way, a row each. */
export const tuneRows = ({ steps }: TuneWay): string[][] =>
  steps.map((step) => {
    const { onset, hold, way, stays, effort, move } = step;
    return [
      String(onset.measure + 1),
      String(onset.beat),
      onset.chord === undefined ? '' : prettySymbol(onset.chord.symbol),
      String(hold.fret),
      [engagedText(way), stays.length === 0 ? '' : `(${engagedText(stays)})`].join(' ').trim() ||
        '–',
      stringsText(step),
      effort.total.toFixed(2),
      move.total.toFixed(2),
    ];
  });

/** Prints what could not be read or played as asked, then the arrangements, best first. */
export function printTune(
  faults: readonly ProgressionFault[],
  { ways, lacks, searched }: TuneArrangement,
): void {
  const troubles = [
    ...faults.map((fault) => `Not read: ${progressionFaultText(fault)}`),
    ...lacks.map(lackText),
  ];
  if (troubles.length > 0) print(`${troubles.join('\n')}\n`);
  if (ways.length === 0) return;
  print(
    `${numberText(searched.candidates)} candidates, about 10^${Math.round(searched.waysLog10)} arrangements; the best ${ways.length}:`,
  );
  ways.forEach((way, index) => {
    print(`\n${index + 1}. ${way.total.toFixed(2)}`);
    print(table(TUNE_HEADING, tuneRows(way), TUNE_RIGHT));
  });
}
