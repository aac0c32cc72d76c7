/**
 * Whatever is asked of a built-in setup, there are voicings, or an offer that has some: of every type of chord,
 * with any size, fret, way of matching and strings. What is found is asked again, and not taken from the offer.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answer } from '$lib/answers/answer';
import { nearest } from '$lib/answers/nearest';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import { runs } from '../battery';

const countOf = (id: (typeof BUILT_IN_IDS)[number], texts: QuestionTexts): number => {
  const read = readQuestion(builtIn(id), texts);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return answer(builtIn(id), read.value).count;
};

const asked = fc.record(
  {
    root: fc.constantFrom('C', 'C#', 'Eb', 'E', 'F#', 'G', 'Ab', 'B'),
    type: fc.constantFrom(...CHORD_TYPES.map(({ suffix }) => suffix)),
    sizes: fc.constantFrom('1', '2', '3', '4', '5', '6', '3-4'),
    match: fc.constantFrom('complete', 'partial', 'rootless'),
    slants: fc.constantFrom('on', 'off'),
    frets: fc.constantFrom('0', '3', '5-7', '0-12', '20-24'),
    grip: fc.constantFrom('1,2', '3,4,5', '4,5,6'),
    top: fc.constantFrom('C', 'G#', 'E4', 'B2'),
    bass: fc.constantFrom('C', 'F#', 'E3'),
  },
  { requiredKeys: ['root', 'type'] },
);

describe('a question that finds nothing', () => {
  it.each(BUILT_IN_IDS)('on %s is offered what finds something', (id) => {
    fc.assert(
      fc.property(asked, ({ root, type, ...besides }) => {
        const texts: QuestionTexts = { chord: root + type, ...besides };
        const read = readQuestion(builtIn(id), texts);
        fc.pre(read.ok);
        if (countOf(id, texts) > 0) return;
        const offers = nearest(builtIn(id), texts);
        expect(offers, JSON.stringify(texts)).not.toEqual([]);
        for (const { change } of offers)
          expect(countOf(id, { ...texts, ...change }), JSON.stringify(change)).toBeGreaterThan(0);
      }),
      { numRuns: runs(4) },
    );
  });
});
