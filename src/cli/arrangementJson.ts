/** An arrangement as JSON: model, section 13, and what else there is to tell. */
import { controlText } from '$lib/setup/controlText';
import type { Setup } from '$lib/setup/setup';
import { onePullWords, type OnePull } from '$lib/arrange/onePull';
import { keyText } from '$lib/theory/spelling';
import type { Alternatives } from '$lib/arrange/alternatives';
import type { ArrangedStep, ArrangedWay, Arrangement } from '$lib/arrange/arrange';
import { differenceWords } from '$lib/arrange/fold';
import { keyOf } from '$lib/arrange/findKey';
import { melodyNoteText } from '$lib/arrange/melody';
import type { NotTaken, Progression, ProgressionFault } from '$lib/arrange/progression';
import { soundingJson } from './voicingJson';

const stepJson = ({
  step,
  chord,
  tones,
  voicing,
  way,
  stays,
  time,
  bandsBass,
  effort,
  move,
}: ArrangedStep) => ({
  bar: step.bar + 1,
  measure: step.bar + 1,
  slot: step.slot + 1,
  /** Beats from the start, and how many it lasts. */
  at: time.at,
  lasts: time.lasts,
  chord: chord.symbol,
  ...(bandsBass ? { bass: 'band' } : {}),
  ...(step.melody === undefined ? {} : { melody: melodyNoteText(step.melody) }),
  voicing: soundingJson(tones, voicing),
  way,
  stays,
  effort,
  move,
});

/** One arrangement; with what it has otherwise than the one before it, where there is one. */
export const wayJson = ({ total, short, parts, steps }: ArrangedWay, before?: ArrangedWay) => ({
  total,
  ...(short === undefined ? {} : { short }),
  parts,
  ...(before === undefined ? {} : { differs: differenceWords(before, { total, parts, steps }) }),
  steps: steps.map(stepJson),
});

/** The document that `arrange --json` prints; `pulls` are those that would give a chord, by step. */
export const arrangementJson = (
  setup: Setup,
  progression: Progression,
  { faults, notTaken }: { faults: readonly ProgressionFault[]; notTaken: readonly NotTaken[] },
  { ways, unplayable, clashes, searched }: Arrangement,
  pulls?: ReadonlyMap<number, readonly OnePull[]>,
  alternatives?: Alternatives,
) => ({
  key: keyText(keyOf(progression)),
  searched,
  ways: ways.map((way, index) => wayJson(way, ways[index - 1])),
  ...(alternatives === undefined
    ? {}
    : {
        bestIs: alternatives.best,
        alternatives: alternatives.others.map(({ character, way, differs, apart }) => ({
          character,
          apart,
          ...wayJson(way),
          differs,
        })),
      }),
  unread: faults.map(({ where, found, allowed }) => ({ where, found, allowed })),
  notTaken: notTaken.map(({ where, words }) => ({ where, words })),
  unplayable: unplayable.map(({ index, step, chord, nearest }) => ({
    bar: step.bar + 1,
    measure: step.bar + 1,
    slot: step.slot + 1,
    chord: chord.symbol,
    nearest: nearest.map(({ words, count }) => ({ words, count })),
    onePull: pulls?.get(index)?.map((pull) => ({
      with: controlText(pull.control),
      words: onePullWords(setup, pull),
      count: pull.count,
    })),
  })),
  clashes: clashes.map(({ wish, words }) => ({ wish, words })),
});
