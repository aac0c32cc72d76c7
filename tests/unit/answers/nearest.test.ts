/** Where nothing is found, something near it is offered, and works. */
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { answer } from '$lib/answers/answer';
import { nearest } from '$lib/answers/nearest';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';

const countOf = (id: (typeof BUILT_IN_IDS)[number], texts: QuestionTexts): number => {
  const read = readQuestion(builtIn(id), texts);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return answer(builtIn(id), read.value).count;
};

const HARD = 'Cdim7 C13 G7#9b13 F#maj7#11 Bbm(maj7) C6/9 Eaug Dm11 Cmaj7 E/F'.split(' ');

describe('nothing found', () => {
  it('ends a search for C dim7 on six strings in C6 with two of its tones', () => {
    // a straight bar has C E G A and no diminished triad, but its minor thirds, on two strings
    expect(countOf('lap6-c6', { chord: 'Cdim7' })).toBe(0);
    const words = nearest(builtIn('lap6-c6'), { chord: 'Cdim7' }).map((each) => each.words);
    expect(words).toContain('play it on two strings');
  });

  it.each(BUILT_IN_IDS)('always offers something that works, on %s', (id) => {
    for (const chord of HARD)
      for (const limits of [{}, { match: 'complete' }, { frets: '3', top: 'C' }]) {
        const texts: QuestionTexts = { chord, ...limits };
        if (countOf(id, texts) > 0) continue;
        const offers = nearest(builtIn(id), texts);
        expect(offers.length, JSON.stringify(texts)).toBeGreaterThan(0);
        for (const { change, count } of offers) {
          expect(count).toBeGreaterThan(0);
          expect(countOf(id, { ...texts, ...change })).toBe(count);
        }
      }
  });
});
