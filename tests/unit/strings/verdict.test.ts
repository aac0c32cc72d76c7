/** A string's load and its wear are told in one reading, the same on the page and in the terminal. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { DEFAULT_BANDS } from '$lib/strings/bands';
import { wearOf } from '$lib/strings/fatigue';
import { stringLoads } from '$lib/strings/loads';
import { firstToWearText, verdictOf, wearAt } from '$lib/strings/verdict';
import { setupOf } from '../../property/generators';

const verdicts = (setup: ReturnType<typeof setupOf>, near = DEFAULT_BANDS.shareNear): string[] =>
  stringLoads(setup, { ...DEFAULT_BANDS, shareNear: near }).map((each) =>
    each.load === undefined ? '' : verdictOf(each.load, wearAt(wearOf(setup), each)),
  );

const pulled = (gauge: number, semitones: number) =>
  setupOf({
    format: 1,
    name: 'Two',
    scaleLengthMm: 610,
    necks: [
      {
        name: 'N',
        strings: [
          { open: 'G#4', gauge },
          { open: 'G#3', gauge: 0.02 },
        ],
      },
    ],
    controls: [{ id: 'B', station: 'P2', pulls: [{ string: 1, semitones }] }],
  });

describe('the verdict on a string', () => {
  // common practice of the trade, from memory: the G♯ of .011 is the string of an E9 neck that breaks,
  // and so must not merely be called fine; at 86 % it bears its raise all the same
  it('says of the third string of E9 that it holds and is the first to wear', () => {
    const e9 = verdicts(builtIn('e9'));
    expect(e9[2]).toBe('holds, first to wear');
    expect(e9.filter((words) => words.includes('first'))).toHaveLength(1);
    // the seventh is pulled by nothing
    expect(e9[6]).toBe('holds');
    expect(firstToWearText(builtIn('e9'), wearOf(builtIn('e9')))).toBe(
      'The first to wear out is string 3.',
    );
  });

  // .011 G♯4 at 610 mm stands at 77 % open (A228, Mersenne): +1 86, +2 97, +3 108 %
  it('tells the load in the words for strength, with the wear behind', () => {
    expect(verdicts(pulled(0.011, 1))[0]).toBe('holds, first to wear');
    expect(verdicts(pulled(0.011, 1), 0.8)[0]).toBe('close to breaking, first to wear');
    expect(verdicts(pulled(0.011, 2))[0]).toBe('close to breaking, first to wear');
    expect(verdicts(pulled(0.011, 3))[0]).toBe('over the limit, first to wear');
    expect(verdicts(pulled(0.011, 1))[1]).toBe('holds');
  });

  it('speaks of no wear where no control pulls anything', () => {
    const still = { ...pulled(0.011, 1), controls: [] };
    expect(verdicts(still)).toEqual(['holds', 'holds']);
    expect(firstToWearText(still, wearOf(still))).toBeUndefined();
  });

  it('names the neck where there are several', () => {
    const double = builtIn('double');
    const text = firstToWearText(double, wearOf(double));
    expect(text).toMatch(/^The first to wear out is string \d+ of .+\.$/);
  });
});
