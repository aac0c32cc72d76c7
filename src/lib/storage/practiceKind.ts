/** What was practised on a setup, as it lies on the device: every answer; edits of two tabs go together. */
import { mergedAnswers, practiceText, readPractice, type Practice } from '$lib/practice/record';
import type { Kind } from './kind';

/** A line of text, and no longer than a name may be. */
const asName = (name: string): string => name.replace(/\s+/gu, ' ').trim().slice(0, 200);

export const practiceKind: Kind<Practice> = {
  kind: 'practice',
  read: readPractice,
  write: practiceText,
  nameOf: ({ name }) => name,
  named: (practice, name) => ({ ...practice, name: asName(name) }),
  merge: ({ base, mine, theirs }) => ({
    value: {
      ...(mine.name === base.name && mine.setup === base.setup ? theirs : mine),
      answers: mergedAnswers(base.answers, mine.answers, theirs.answers),
    },
    conflicts: [],
  }),
};
