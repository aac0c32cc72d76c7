import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { strainsOf, workingRanges } from '$lib/strings/strains';

const e9 = builtIn('e9');

describe('how far a string may be moved', () => {
  it('is less for the G sharp of E9 alone, the string that breaks (common practice of the trade)', () => {
    // .011 at G sharp: a whole tone is the edge, a minor third beyond
    expect(workingRanges(e9)).toEqual([{ neck: 1, string: 3, least: -3, most: 2 }]);
  });

  it('is not said where gauges are not told', () => {
    const necks = e9.necks.map(({ name, strings }) => ({
      name,
      strings: strings.map(({ open }) => ({ open })),
    }));
    expect(workingRanges({ ...e9, necks })).toEqual([]);
    const [strain] = strainsOf({ ...e9, necks }, [{ neck: 1, string: 3, semitones: 2 }]);
    expect(strain).toEqual({ neck: 1, string: 3, semitones: 2 });
  });
});

describe('what a further pull leaves', () => {
  it('is counted from the highest raise of the string, whichever control makes it', () => {
    const at = (semitones: number) =>
      strainsOf(e9, [{ neck: 1, string: 3, semitones }])[0]?.headroomSemitones ?? NaN;
    // B raises it by one already
    expect(at(-2)).toBe(at(1));
    expect(at(1) - at(2)).toBeCloseTo(1, 9);
  });
});
