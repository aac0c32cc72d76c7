/** What can be wrong with a file of what was practised. */
import { faultsOf, type Sentences } from './faults';
import { shown } from './faultWords';

const A_RECORD = 'the answers of a practice, as “Save as a file” in Practice writes them';

export const PRACTICE_SENTENCES = {
  'practice.tooLong': (length: number, most: number) => [
    `${length} characters`,
    `at most ${most} characters`,
  ],
  'practice.notJson': () => ['text that is not JSON', A_RECORD],
  'practice.notARecord': () => ['something else', A_RECORD],
  'practice.format': (format: unknown, present: number) => [
    shown(format),
    `${present}; a higher number comes from a newer Gripwright`,
  ],
  'practice.text': (most: number) => ['something else', `a text of at most ${most} characters`],
  'practice.answers': () => [
    'something else',
    'times in seconds since 1970, each with a grade from 1 to 4 behind it',
  ],
} satisfies Sentences;

export const { fault } = /* @__PURE__ */ faultsOf(PRACTICE_SENTENCES);
