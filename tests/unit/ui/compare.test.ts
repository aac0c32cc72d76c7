/** Compare's address, its words and its pictures, without a page. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { compare } from '$lib/coverage/compare';
import type { Pocket, PocketChord } from '$lib/coverage/pockets';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { compareAddressText, readCompareAddress } from '$lib/ui/compare/address';
import { chartMeasure } from '$lib/ui/compare/chartMeasures';
import {
  chartRows,
  pocketSplit,
  shortNames,
  verdict,
  type ChartRow,
} from '$lib/ui/compare/compareView';
import { fretAt, layOutPockets } from '$lib/ui/compare/pocketGeometry';
import { addedType, fromFile, fromProgression } from '$lib/ui/compare/repertoireEdits';

describe('the address', () => {
  it.each([
    '',
    'setup=c6',
    'setup=universal12&with=c6&key=Eb&pocket=2&effort=3',
    'repertoire=maj:3,m7b5:1,6/9:2&by=least&order=use&list=easierA&type=maj&fret=7',
  ])('“%s” comes back as it is', (text) => {
    expect(compareAddressText(readCompareAddress(new URLSearchParams(text)))).toBe(text);
  });

  it('never sets a setup against itself where only one is named', () => {
    const { a, b } = readCompareAddress(new URLSearchParams('setup=universal12'));
    expect([a, b]).toEqual(['universal12', 'e9']);
  });

  it('passes over what it does not know', () => {
    const { view } = readCompareAddress(new URLSearchParams('by=size&list=x&fret=-2&type=zz'));
    expect(view).toEqual({ measure: 'voicings', order: 'difference', list: 'onlyB', fret: 0 });
  });
});

describe('names short enough for a chart', () => {
  it.each([
    ['E9, three pedals', 'C6, five pedals', 'E9', 'C6'],
    ['E9, three', 'E9, four', 'E9, three', 'E9, four'],
    [
      'E9, three pedals and five levers',
      'E9, four pedals and five levers',
      'E9 (first)',
      'E9 (second)',
    ],
    ['Same', 'Same', 'Same (first)', 'Same (second)'],
    ['A name that goes on for much too long', 'B', 'A name that goes on for m…', 'B'],
  ])('%s and %s', (a, b, shortA, shortB) => {
    expect(shortNames(a, b)).toEqual({ a: shortA, b: shortB });
  });
});

describe('the chart', () => {
  const { types } = compare(builtIn('e9'), builtIn('c6'), EVERYDAY_REPERTOIRE);
  const voicings = chartMeasure('voicings');

  it('sets the longest bar to the whole axis and keeps the others in proportion', () => {
    const rows = chartRows(types, EVERYDAY_REPERTOIRE, voicings, 'use');
    expect(rows.map(({ type }) => type)).toEqual(EVERYDAY_REPERTOIRE.map(({ type }) => type));
    expect(Math.max(...rows.flatMap(({ a, b }) => [a.share, b.share]))).toBe(1);
    const major = types.find(({ type }) => type === '');
    const [row] = rows;
    expect((row?.a.share ?? 0) / (row?.b.share ?? 1)).toBeCloseTo(
      (major?.a.voicings ?? 0) / (major?.b.voicings ?? 1),
      9,
    );
  });

  it('tells who is ahead: more voicings, or less effort', () => {
    for (const id of ['voicings', 'least'] as const) {
      const measure = chartMeasure(id);
      for (const row of chartRows(types, EVERYDAY_REPERTOIRE, measure, 'difference')) {
        const type = types.find((each) => each.type === row.type);
        const [a, b] = [type?.a, type?.b].map((each) => (each ? measure.valueOf(each) : null));
        const ahead = (a ?? 0) === (b ?? 0) ? undefined : (a ?? 0) > (b ?? 0) ? 'a' : 'b';
        const other = { a: 'b', b: 'a' } as const;
        expect(row.stronger).toBe(ahead && measure.better === 'less' ? other[ahead] : ahead);
      }
    }
  });

  const row = (label: string, stronger: ChartRow['stronger']): ChartRow => ({
    type: label,
    label,
    spoken: label,
    a: { share: 1, text: '' },
    b: { share: 1, text: '' },
    stronger,
    lead: '',
  });
  const names = { a: 'E9', b: 'C6' };

  it.each([
    [[row('7', undefined)], 'They are level in every chord type.'],
    [[row('7', 'a'), row('m', 'a')], 'E9 has more voicings in every chord type.'],
    [
      [row('7', 'a'), row('m', 'a'), row('9', 'b')],
      'E9 has more voicings in 7 and m. C6 has more voicings in 9.',
    ],
    [
      [...'abcdef'].map((each) => row(each, each === 'f' ? undefined : 'b')),
      'C6 has more voicings in 5 of 6 chord types.',
    ],
  ])('says who is stronger where', (rows, sentence) => {
    expect(verdict(rows, voicings, names)).toBe(sentence);
  });
});

describe('the pockets', () => {
  const chord = (numeral: string, match: PocketChord['match']): PocketChord => ({
    symbol: numeral,
    numeral,
    match,
    effort: 0,
  });
  const pocket = (fret: number, ...chords: PocketChord[]): Pocket => ({ fret, chords });

  it('give a chord that is complete on one alone to that one', () => {
    const a = pocket(0, chord('I', 'complete'), chord('ii', 'lean'), chord('V', 'complete'));
    const b = pocket(0, chord('I', 'complete'), chord('ii', 'complete'), chord('IV', 'lean'));
    const split = pocketSplit(a, b);
    const numerals = (list: readonly PocketChord[]) => list.map(({ numeral }) => numeral);
    expect([split.both, split.a, split.b].map(numerals)).toEqual([['I'], ['V'], ['ii', 'IV']]);
  });

  it('are drawn at true fret distances, and a touch finds the nearest fret', () => {
    const pockets = Array.from({ length: 25 }, (_, fret) => pocket(fret, chord('I', 'complete')));
    const picture = layOutPockets(1000, pockets, pockets.slice(0, 13), 1);
    const x = picture.columns.map((column) => column.x);
    // fret 12 lies half way to the bridge, fret 24 three quarters: two thirds of the way to fret 24
    expect(((x[12] ?? 0) - (x[0] ?? 0)) / ((x[24] ?? 0) - (x[0] ?? 0))).toBeCloseTo(2 / 3, 9);
    for (const column of picture.columns) expect(fretAt(picture, column.x + 1)).toBe(column.fret);
    expect(picture.columns[13]?.b).toBeUndefined();
    // on a phone the picture is wider than the room
    expect(layOutPockets(328, pockets, pockets, 1).width).toBeGreaterThan(328);
    expect(layOutPockets(328, [pocket(0)], [pocket(0)], 0).columns).toHaveLength(1);
  });
});

describe('edits of a repertoire', () => {
  const two = [
    { type: '', weight: 5 },
    { type: 'm', weight: 2 },
  ];

  it('add a type that weighs as the rarest one does', () => {
    expect(addedType(two, '13')).toEqual({
      repertoire: [...two, { type: '13', weight: 2 }],
      told: '13 is added.',
    });
    expect(addedType(two, 'min').repertoire).toBeUndefined();
    expect(addedType(two, 'zz').told).toContain('“zz” is not understood');
    expect(addedType(two, ' ').repertoire).toBeUndefined();
  });

  it.each([
    // a chord written whole, German H, a degree, a syllable: what is asked for is its type
    ['Am7', ['m7']],
    ['H7', ['7']],
    ['ii7', ['m7']],
    ['La m', ['m']],
    ['zz', []],
  ] as const)('offer the type that “%s” was likely meant as', (text, types) => {
    expect(addedType(two, text).meant?.map((each) => each.text)).toEqual(types);
  });

  it('take a progression, and say what was left aside', () => {
    const taken = fromProgression('C | Am7 Hm | Dm7');
    expect(taken.repertoire).toEqual([
      { type: 'm7', weight: 2 },
      { type: '', weight: 1 },
    ]);
    expect(taken.told).toMatch(/^3 chords of 2 types taken\. Left aside: “Hm”/);
    // H is B here, one press away
    expect(taken.meant?.map(({ text }) => text)).toEqual(['C | Am7 Bm | Dm7']);
    expect(fromProgression('ii7 V7').meant?.map(({ shown }) => shown)).toEqual(['Dm7', 'G7']);
    expect(fromProgression('| % |')).toEqual({ told: 'There is no chord in it.' });
  });

  it('open a file, or say why not', () => {
    expect(fromFile('{"format":1,"types":[{"type":"9","weight":1}]}').repertoire).toEqual([
      { type: '9', weight: 1 },
    ]);
    expect(fromFile('{"format":1}').told).toContain('types: found nothing');
  });
});
