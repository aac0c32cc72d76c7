/** `gripwright coverage`: what a setup covers of a repertoire. */
import { prettySymbol, typeName } from '$lib/theory/display';
import { keyText } from '$lib/theory/spelling';
import { coverageOf, type Coverage } from '$lib/coverage/coverage';
import { MEASURES, measured } from '$lib/coverage/measures';
import type { PocketChord } from '$lib/coverage/pockets';
import { toneText } from '$lib/answers/voicingText';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { numberText, print, printJson, table } from './out';
import {
  coverageJson,
  effortText,
  figure,
  perRoot,
  weighingOf,
  withWeighing,
  type Weighing,
  type WeighingOptions,
} from './weighing';

/** A chord of a pocket; a tone that has to be left out is told by brackets. */
export const pocketText = ({ symbol, match }: PocketChord): string =>
  match === 'complete' ? prettySymbol(symbol) : `(${prettySymbol(symbol)})`;

function printCoverage(coverage: Coverage, { repertoire, key, options }: Weighing): void {
  const { setup, types, pockets } = coverage;
  const numbers = measured(coverage, repertoire);
  print(`“${setup.name}”, ${types.length} chord types\n`);
  print(
    table(
      ['measure', '', ''],
      MEASURES.map((measure) => [
        measure.name,
        figure(measure, numbers[measure.id]),
        measure.meaning,
      ]),
      [1],
    ),
  );
  print(
    '\nBy chord type: voicings along the whole neck, positions of one root (the mean of all twelve)',
  );
  print(
    table(
      ['type', 'voicings', 'positions', 'lowest', 'on top', 'least', 'median'],
      types.map(({ type, voicings, places, inversions, tops, effort }) => [
        typeName(type),
        numberText(voicings),
        perRoot(places),
        inversions.map(({ degree }) => toneText(degree)).join(' '),
        tops.map(({ degree }) => toneText(degree)).join(' '),
        effortText(effort.least),
        effortText(effort.median),
      ]),
      [1, 2, 5, 6],
    ),
  );
  const around = options.pocket === 0 ? '' : ` and ${options.pocket ?? 0} to either side`;
  print(
    `\nChords of ${prettySymbol(keyText(key))} at each fret${around}; (in brackets) without some tone`,
  );
  print(
    table(
      ['fret', 'chords'],
      pockets.map(({ fret, chords }) => [String(fret), chords.map(pocketText).join(' ') || '–']),
      [0],
    ),
  );
}

interface CoverageJobOptions extends WeighingOptions {
  readonly setup: string;
}

function coverage(options: CoverageJobOptions): void {
  const setup = loadSetup(options.setup);
  const weighing = weighingOf(options);
  const covered = coverageOf(setup, weighing.repertoire, weighing.options);
  if (options.json) printJson({ ...coverageJson(covered, weighing), asked: weighing.asked });
  else printCoverage(covered, weighing);
}

/** Adds the job `coverage`. */
export function addCoverage(job: MakeJob): void {
  withWeighing(job('coverage', 'what a setup covers of a repertoire')).action(
    (options: CoverageJobOptions) => {
      coverage(options);
    },
  );
}
