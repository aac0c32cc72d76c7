/** What can be wrong with charts and tablature as people keep them. */
import { DOCUMENT_SENTENCES } from './documentFaults';
import { faultsOf, type Sentences } from './faults';
import { listed, shown } from './faultWords';

const A_CHART = 'a chart: strings with their open notes, and what each pedal or lever does to them';

export const CHART_SENTENCES = {
  ...DOCUMENT_SENTENCES,
  'chart.empty': () => [shown(undefined), A_CHART],
  'chart.none': () => ['a text in which no strings and controls stand together', A_CHART],
  'chart.noNotes': (strings: readonly number[]) => [
    strings.length === 0
      ? 'strings without open notes'
      : `no open note for string ${listed(strings.map(String))}`,
    'the open note of every string, or the name of a tuning that is known, such as E9',
  ],
  'chart.tooMuch': (lines: number, characters: number) => [
    'more than a chart has',
    `at most ${lines} lines of ${characters} characters`,
  ],
  'chart.impossible': (found: string, allowed: string) => [found, allowed],
  'tablature.none': () => [
    'a text in which no strings, frets and controls stand together',
    'tablature: a line for each string with frets and controls on it, or lines such as 8 A,B 3-4-5',
  ],
} satisfies Sentences;

export const { fault } = /* @__PURE__ */ faultsOf(CHART_SENTENCES);
