import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { optionFaultText } from '$lib/answers/options';
import { readWishes } from '$lib/answers/readWishes';
import type { WishTexts } from '$lib/answers/wishParts';

const E9 = builtIn('e9');

describe('wishes that contradict one another', () => {
  const told = (texts: WishTexts): string[] => {
    const read = readWishes(E9, texts);
    return read.ok ? [] : read.error.map(optionFaultText);
  };

  it.each<[WishTexts, string]>([
    [
      { prefer: '3-4-5', avoid: '5-4-3' },
      'prefer: found 3-4-5, which avoid names too; allowed is a grip in one of the two.',
    ],
    [
      { prefer: '3-4-5', sizes: '4' },
      'prefer: found 3-4-5, which has 3 strings; allowed is grips of the asked sizes, 4 to 4 strings.',
    ],
    [
      { locks: '2=fret:8', frets: '0-7' },
      'locks: found chord 2 locked at fret 8; allowed is a fret within the asked range, 0-7.',
    ],
    [
      { locks: '1=hold:8/A,B/3-4-5', without: 'B' },
      'locks: found chord 1 locked with B; allowed is controls other than B.',
    ],
    [
      { locks: '1=hold:8/A,B/3-4-5;1=fret:9' },
      'locks: found chord 1 locked at frets 8 and 9; allowed is one fret.',
    ],
    [
      { locks: '1=fret:3;4=hold:10/A/3-4-5', pocket: '6' },
      'pocket: found 6, while locks lie 7 frets apart; allowed is a pocket of 7 frets or more, or fewer locks.',
    ],
  ])('%o', (texts, sentence) => {
    expect(told(texts)).toEqual([sentence]);
  });

  it.each<WishTexts>([
    { prefer: '3-4-5', avoid: '3-4', sizes: '2-4' },
    { locks: '2=fret:8;2=any-fret', frets: '0-7' },
    { locks: '1=hold:8/A,B/3-4-5;1=any-control', without: 'B' },
    { locks: '1=hold:8/A,B/3-4-5;1=fret:8' },
    { locks: '1=fret:3;4=hold:10/A/3-4-5', pocket: '7' },
  ])('%o do not', (texts) => {
    expect(told(texts)).toEqual([]);
  });
});

describe('a voicing that is kept with nothing engaged', () => {
  it('is written with a dash or with nothing between the strokes', () => {
    const holds = ['1=hold:3/-/3-4-5', '1=hold:3//3-4-5'].map((locks) => {
      const read = readWishes(E9, { locks });
      return read.ok ? read.value.steps.get(0)?.hold : undefined;
    });
    const hold = { neck: 1, fret: 3, slant: 0, strings: [3, 4, 5], engaged: [] };
    expect(holds).toEqual([hold, hold]);
  });
});

describe('a hold', () => {
  it('is the same in whatever order its controls are written', () => {
    const e9 = builtIn('e9');
    const [ab, ba] = ['8/A,B/3-4-5', '8/B,A/3-4-5'].map((hold) =>
      readWishes(e9, { locks: `1=hold:${hold}` }),
    );
    expect(ba).toEqual(ab);
  });
});
