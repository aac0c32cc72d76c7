/** `gripwright compare A B`: two setups on the same measures, and what tells them apart. */
import { prettySymbol, typeName } from '$lib/theory/display';
import { keyText } from '$lib/theory/spelling';
import { engagedText } from '$lib/setup/engagedText';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { fretText, voicingText } from '$lib/answers/voicingText';
import { compare, type Comparison } from '$lib/coverage/compare';
import { LISTS, type ListName } from '$lib/coverage/listNames';
import { MEASURES } from '$lib/coverage/measures';
import type { ComparedSound, SoundList } from '$lib/coverage/soundLists';
import { stringWarnings } from '$lib/strings/warnings';
import { pocketText } from './coverage';
import { wholeNumber, type MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { withSongsShown, type SongOptions } from './songFiles';
import { A_B, measureBySongs } from './songs';
import { countText, numberText, print, printJson, printShortened, table } from './out';
import { printWarnings } from './stringWarnings';
import { voicingJson } from './voicingJson';
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

interface CompareOptions extends WeighingOptions, SongOptions {
  readonly limit: number;
}

const soundJson = ({ type, chord, here, there, heights, unknownThere }: ComparedSound) => ({
  type,
  symbol: chord.symbol,
  heights,
  unknownThere,
  ...voicingJson(chord, here),
  ...(there === undefined ? {} : { other: voicingJson(chord, there) }),
});

const listJson = (list: SoundList, limit: number) => ({
  count: list.count,
  patterns: list.patterns,
  byType: list.byType,
  voicings: list.entries(0, limit === 0 ? list.patterns : limit).map(soundJson),
});

function comparisonJson(comparison: Comparison, weighing: Weighing, limit: number) {
  const { a, b, types, pockets } = comparison;
  return {
    asked: weighing.asked,
    a: coverageJson(a, weighing),
    b: coverageJson(b, weighing),
    types: types.map(({ type, a, b, lead }) => ({
      type,
      lead,
      voicings: { a: a.voicings, b: b.voicings },
      places: { a: a.places, b: b.places },
      effort: { a: a.effort, b: b.effort },
    })),
    pockets,
    strings: { a: stringWarnings(a.setup), b: stringWarnings(b.setup) },
    ...Object.fromEntries(LISTS.map((name) => [name, listJson(comparison[name], limit)])),
  };
}

const HEADINGS: Readonly<Record<ListName, (here: string, there: string) => string>> = {
  onlyA: (a, b) => `Only A (${a}), not on ${b}`,
  onlyB: (a, b) => `Only B (${b}), not on ${a}`,
  easierA: (a) => `Easier on A (${a})`,
  easierB: (_, b) => `Easier on B (${b})`,
};

const held = ({ voicing }: RankedVoicing): string =>
  `${fretText(voicing)} ${engagedText(voicing.ways[0] ?? []) || '–'} ${voicing.strings.join('-')}`;

function printList(heading: string, list: SoundList, limit: number): void {
  print(`\n${heading}: ${countText(list.count, 'sound')}`);
  if (list.count === 0) return;
  const shown = list.entries(0, limit === 0 ? list.patterns : limit);
  print(
    table(
      ['chord', 'notes', 'fret, controls, strings', 'effort', 'heights', 'on the other'],
      shown.map(({ chord, here, there, heights, unknownThere }) => [
        prettySymbol(chord.symbol),
        voicingText(chord, here.voicing).notes.join(' '),
        held(here),
        here.effort.total.toFixed(2),
        String(heights),
        there !== undefined
          ? `${there.effort.total.toFixed(2)} at ${held(there)}`
          : unknownThere
            ? 'at no height'
            : 'at other heights',
      ]),
      [3, 4],
    ),
  );
  printShortened(shown.length, list.patterns, 'patterns');
}

function printComparison(
  comparison: Comparison,
  { key }: Weighing,
  limit: number,
  printSongs: () => void = () => undefined,
): void {
  const { a, b, measures, types, pockets } = comparison;
  print(`A: “${a.setup.name}”\nB: “${b.setup.name}”\n`);
  printSongs();
  print(
    table(
      ['measure', 'A', 'B', 'better', ''],
      MEASURES.map((measure) => {
        const [one, other] = [measures.a[measure.id], measures.b[measure.id]];
        const ahead = one === null || other === null ? 0 : one - other;
        const better = ahead === 0 ? '=' : ahead > 0 === (measure.better === 'more') ? 'A' : 'B';
        return [
          measure.name,
          figure(measure, one),
          figure(measure, other),
          better,
          measure.meaning,
        ];
      }),
      [1, 2],
    ),
  );
  print(
    '\nBy chord type, most different first: voicings along the whole neck, positions of one root (the mean of all twelve)',
  );
  print(
    table(
      ['type', 'voicings A', 'B', 'more', 'positions A', 'B', 'least A', 'B', 'median A', 'B'],
      types.map(({ type, a, b, lead }) => [
        typeName(type),
        numberText(a.voicings),
        numberText(b.voicings),
        lead === 0 ? '=' : `${lead < 0 ? 'A' : 'B'} ${Math.round(100 * Math.abs(lead))} %`,
        perRoot(a.places),
        perRoot(b.places),
        effortText(a.effort.least),
        effortText(b.effort.least),
        effortText(a.effort.median),
        effortText(b.effort.median),
      ]),
      [1, 2, 3, 4, 5, 6, 7, 8, 9],
    ),
  );
  print(`\nPockets of ${prettySymbol(keyText(key))}, most different first; (in brackets) partial`);
  const differing = pockets.filter((pocket) =>
    [pocket.onlyA, pocket.onlyB, pocket.wholerA, pocket.wholerB].some((list) => list.length > 0),
  );
  const list = (chords: (typeof pockets)[number]['onlyA']): string =>
    chords.map(pocketText).join(' ') || '–';
  print(
    differing.length === 0
      ? 'They are the same.'
      : table(
          ['fret', 'only A', 'only B', 'complete on A alone', 'complete on B alone'],
          differing
            .slice(0, limit === 0 ? differing.length : limit)
            .map(({ fret, onlyA, onlyB, wholerA, wholerB }) => [
              String(fret),
              ...[onlyA, onlyB, wholerA, wholerB].map(list),
            ]),
          [0],
        ),
  );
  for (const { setup } of [a, b])
    printWarnings(`Strings of “${setup.name}”`, stringWarnings(setup));
  for (const name of LISTS)
    printList(HEADINGS[name](a.setup.name, b.setup.name), comparison[name], limit);
}

async function compareJob(a: string, b: string, options: CompareOptions): Promise<void> {
  const weighing = weighingOf(options);
  const [one, other] = [loadSetup(a), loadSetup(b)];
  const songs = await measureBySongs(one, other, options, 'both', A_B);
  const comparison = compare(one, other, weighing.repertoire, weighing.options);
  if (options.json)
    printJson({ ...comparisonJson(comparison, weighing, options.limit), ...songs?.json });
  else printComparison(comparison, weighing, options.limit, songs?.print);
}

/** Adds the job `compare`. */
export function addCompare(job: MakeJob): void {
  withSongsShown(
    withWeighing(
      job('compare', 'weigh two setups against one another', false)
        .argument('<a>', 'a setup file, or the id of a built-in setup')
        .argument('<b>', 'the other one'),
    ),
  )
    .option('--setup <file or id>', 'has no effect here: the two setups are named by themselves')
    .option('--limit <number>', 'how many to show in each list; 0 shows all', wholeNumber, 10)
    .action((a: string, b: string, options: CompareOptions) => compareJob(a, b, options));
}
