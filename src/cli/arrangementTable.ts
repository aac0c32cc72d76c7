/** An arrangement as a person reads it in a terminal. */
import { prettySymbol } from '$lib/theory/display';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { fretText, voicingText } from '$lib/answers/voicingText';
import type { ArrangedWay, Arrangement } from '$lib/arrange/arrange';
import type { Alternatives } from '$lib/arrange/alternatives';
import { differenceWords, shortWords } from '$lib/arrange/fold';
import { moveWords } from '$lib/arrange/moveWords';
import { onePullWords, type OnePull } from '$lib/arrange/onePull';
import {
  notTakenText,
  progressionFaultText,
  type NotTaken,
  type ProgressionFault,
} from '$lib/arrange/progression';
import { lengthText, type Units } from '$lib/strings/units';
import { countText, numberText, print, table } from './out';

function pullsText(setup: Setup, pulls: readonly OnePull[] | undefined): string {
  if (pulls === undefined) return '';
  const words = pulls.map(
    (pull) => `${onePullWords(setup, pull)} (${countText(pull.count, 'voicing')})`,
  );
  return words.length === 0
    ? ' No one pull of up to three semitones gives it.'
    : ` One pull more would give it: ${words.join('; ')}.`;
}

/** Prints what could not be read, cannot be played or contradicts itself; nothing where all is well. */
export function printTroubles(
  setup: Setup,
  { faults, notTaken }: { faults: readonly ProgressionFault[]; notTaken: readonly NotTaken[] },
  { unplayable, clashes }: Arrangement,
  pulls?: ReadonlyMap<number, readonly OnePull[]>,
): void {
  const lines = [
    ...faults.map((fault) => `Not read: ${progressionFaultText(fault)}`),
    ...notTaken.map((note) => `Note: ${notTakenText(note)}`),
    ...clashes.map(({ words }) => words),
    ...unplayable.map(({ index, chord, step, nearest }) => {
      const near = nearest.map(({ words, count }) => `${words} (${countText(count, 'voicing')})`);
      return `Measure ${step.bar + 1}, ${prettySymbol(chord.symbol)}: cannot be played as asked. ${
        near.length === 0 ? 'Nothing near it can either.' : `It can ${near.join('; ')}.`
      }${pullsText(setup, pulls?.get(index))}`;
    }),
  ];
  if (lines.length > 0) print(`${lines.join('\n')}\n`);
}

function wayRows({ steps }: ArrangedWay): string[][] {
  return steps.map((step, at) => {
    const { chord, tones, voicing, way, stays, effort, move } = step;
    const text = voicingText({ ...chord, tones: tones as typeof chord.tones }, voicing);
    const before = steps[at - 1];
    return [
      String(step.step.bar + 1),
      prettySymbol(chord.symbol),
      fretText(voicing),
      [
        engagedText(way),
        stays.length === 0
          ? ''
          : `(${engagedText(stays)} ${stays.length === 1 ? 'stays' : 'stay'})`,
      ]
        .join(' ')
        .trim() || '–',
      text.strings,
      text.notes.join(' '),
      text.missing.join(' '),
      effort.total.toFixed(2),
      move.total.toFixed(2),
      before === undefined ? '' : moveWords(before, step),
    ];
  });
}

const HEADING = [
  'measure',
  'chord',
  'fret',
  'controls',
  'strings',
  'notes',
  'no',
  'effort',
  'move',
  'how',
];

const partsText = ({ parts }: ArrangedWay, units: Units): string =>
  `bar ${parts.bar.toFixed(2)}, feet ${parts.feet.toFixed(2)}, picking ${parts.picking.toFixed(2)}, voices ${parts.voices.toFixed(2)}, clarity ${parts.clarity.toFixed(2)}; the bar goes ${lengthText(parts.barMm, units, 0)}`;

/** Prints the steps of an arrangement, and first whether the search for it was cut short. */
function printRows(way: ArrangedWay): void {
  const short = shortWords(way);
  if (short !== '') print(short);
  print(table(HEADING, wayRows(way), [0, 2, 7, 8]));
}

/** Prints the arrangements, best first, each with what it has otherwise than the one before it. */
export function printWays({ ways, searched }: Arrangement, units: Units): void {
  print(
    `${numberText(searched.candidates)} candidates, about 10^${Math.round(searched.waysLog10)} arrangements; the best ${ways.length}:`,
  );
  ways.forEach((way, index) => {
    const before = ways[index - 1];
    print(
      `\n${index + 1}. ${way.total.toFixed(2)}: ${partsText(way, units)}${before === undefined ? '' : `; ${differenceWords(before, way)}`}`,
    );
    printRows(way);
  });
}

/** Prints one arrangement under a title. */
export function printWay(title: string, way: ArrangedWay, units: Units = 'metric'): void {
  print(`\n${title}: ${way.total.toFixed(2)}: ${partsText(way, units)}`);
  print(table(HEADING, wayRows(way), [0, 2, 7, 8]));
}

/** Prints arrangements of other characters, each under what it is. */
export function printAlternatives({ best, others }: Alternatives, units: Units): void {
  if (best.length > 0) print(`\nThe best one is also: ${best.join(', ')}.`);
  for (const { character, way, differs, apart } of others) {
    print(
      `\n${character}. ${way.total.toFixed(2)}: ${partsText(way, units)}; ${Math.round(apart * 100)} % of its positions are others than in the best; ${differs}`,
    );
    printRows(way);
  }
}
