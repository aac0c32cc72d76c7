/** Tunes in all textures against every way there is of playing them, laid out one by one. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pitchNamed, type Pitch } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import type { Setup } from '$lib/setup/setup';
import { EVEN_WAY, type WayBalance } from '$lib/effort/weights';
import { onsetsOf } from '$lib/arrange/onsets';
import type { Piece } from '$lib/arrange/piece';
import { HARMONIES, TEXTURES, type Textures } from '$lib/arrange/texture';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { candidatesAt, everyWay, textOf, thousandths } from './plainTune';

const chordOf = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const balances: fc.Arbitrary<WayBalance> = fc.constantFrom(
  EVEN_WAY,
  { feet: 0.1, picking: 1, bar: 3, clarity: 0.5, voices: 2 },
  { feet: 2, picking: 0.3, bar: 0.3, clarity: 0, voices: 0 },
);

interface RandomNote {
  readonly string: number;
  readonly fret: number;
  readonly lasts: number;
  readonly rest: number;
}

const note: fc.Arbitrary<RandomNote> = fc.record({
  string: fc.nat(20),
  fret: fc.nat(6),
  lasts: fc.constantFrom(0.25, 0.5, 1, 2),
  rest: fc.constantFrom(0, 0, 0, 0.5),
});

/** A tune of pitches that its strings have, in one measure that is as long as it. */
function pieceFor(
  setup: Setup,
  notes: readonly RandomNote[],
  chords: readonly { readonly at: number; readonly symbol: string }[],
  tempo: number,
): Piece {
  const strings = setup.necks.flatMap((neck) => neck.strings);
  let at = 0;
  const placed = notes.map(({ string, fret, lasts, rest }) => {
    const open = strings[string % strings.length]?.open.midi ?? 60;
    const midi = open + (fret % (setup.frets + 2));
    const pitch: Pitch = pitchNamed(plainName(midi % 12), midi);
    const own = { at, lasts, pitch };
    at += lasts + rest;
    return own;
  });
  return {
    tempo,
    key: { tonic: { letter: 'C', alter: 0 }, mode: 'major' },
    measures: [
      {
        lasts: at,
        notes: placed,
        chords: chords
          .filter((each) => each.at < at)
          .map((each) => ({ at: each.at, chord: chordOf(each.symbol) })),
      },
    ],
  };
}

const symbols = fc.constantFrom('C', 'Am', 'C5', 'G5', 'F5', 'A5');

it('the best ways of playing a tune are those of a plain search over all: totals, and what they are', () => {
  const compared = new Map<string, number>();
  fc.assert(
    fc.property(
      fc.record({
        setup: smallSetup,
        notes: fc.array(note, { minLength: 1, maxLength: 5 }),
        first: symbols,
        second: fc.record({ at: fc.constantFrom(0.5, 1, 1.25, 2), symbol: symbols }),
        tempo: fc.constantFrom(60, 120, 300),
        texture: fc.constantFrom(...TEXTURES, 'chord-melody', 'chord-melody', 'chords'),
        harmony: fc.constantFrom(...HARMONIES),
        balance: balances,
        home: fc.option(fc.nat(3), { nil: undefined }),
        most: fc.integer({ min: 1, max: 20 }),
      }),
      ({ setup, notes, first, second, tempo, texture, harmony, balance, home, most }) => {
        const wishes: Wishes = {
          ...noWishes(false),
          sizes: [2, 3],
          match: 'lean',
          balance,
          ...(home === undefined ? {} : { home: Math.min(home, setup.frets) }),
        };
        const piece = pieceFor(setup, notes, [{ at: 0, symbol: first }, second], tempo);
        const textures: Textures = { texture, harmony, measures: [] };
        const onsets = onsetsOf(piece, textures);
        const all = onsets.map((onset) => candidatesAt(setup, onset, wishes.sizes));
        fc.pre(!onsets.some(({ asChord }, at) => asChord && all[at]?.length === 0));
        const layers = all.filter((layer) => layer.length > 0);
        fc.pre(layers.length > 0);
        fc.pre(layers.reduce((product, { length }) => product * length, 1) <= 3_000);
        const played = onsets.filter((_, at) => (all[at]?.length ?? 0) > 0);
        const plain = everyWay(setup, layers, played, wishes);
        const { ways } = arrangeTune(setup, piece, textures, wishes, most);
        expect(ways.map(({ total }) => thousandths(total))).toEqual(
          plain.slice(0, most).map(({ cost }) => cost),
        );
        const texts = ways.map(({ steps }) =>
          steps.map(({ hold, way }) => ` ${textOf({ ...hold, engaged: way })}`).join(''),
        );
        expect(new Set(texts).size).toBe(texts.length);
        ways.forEach(({ total }, place) => {
          const level = plain.filter(({ cost }) => cost === thousandths(total));
          expect(level.map(({ text }) => text)).toContain(texts[place]);
        });
        if (layers.length > 1) compared.set(texture, (compared.get(texture) ?? 0) + 1);
      },
    ),
    { numRuns: runs(125, 2500) },
  );
  for (const texture of TEXTURES) expect(compared.get(texture) ?? 0, texture).toBeGreaterThan(0);
});

it('a tune with a repeat is played alike in both passes, and the best ways are those of a plain search over all such ways', () => {
  let compared = 0;
  fc.assert(
    fc.property(
      fc.record({
        setup: smallSetup,
        again: fc.array(note, { minLength: 1, maxLength: 2 }),
        after: fc.array(note, { maxLength: 1 }),
        first: symbols,
        second: fc.record({ at: fc.constantFrom(0.5, 1), symbol: symbols }),
        tempo: fc.constantFrom(60, 300),
        texture: fc.constantFrom(...TEXTURES, 'line', 'chord-melody'),
        harmony: fc.constantFrom(...HARMONIES),
      }),
      ({ setup, again, after, first, second, tempo, texture, harmony }) => {
        const wishes: Wishes = { ...noWishes(false), sizes: [2, 3], match: 'lean' };
        const chords = [{ at: 0, symbol: first }, second];
        const { measures: repeated, ...about } = pieceFor(setup, again, chords, tempo);
        const { measures: last } = pieceFor(setup, after, [], tempo);
        const piece: Piece = {
          ...about,
          measures: [
            ...repeated.map((measure) => ({ ...measure, repeats: true as const, times: 2 })),
            ...(after.length === 0 ? [] : last),
          ],
        };
        const textures: Textures = { texture, harmony, measures: [] };
        const onsets = onsetsOf(piece, textures);
        const all = onsets.map((onset) => candidatesAt(setup, onset, wishes.sizes));
        fc.pre(!onsets.some(({ asChord }, at) => asChord && all[at]?.length === 0));
        const layers = all.filter((layer) => layer.length > 0);
        fc.pre(layers.length > 2);
        fc.pre(layers.reduce((product, { length }) => product * length, 1) <= 5_000);
        const played = onsets.filter((_, at) => (all[at]?.length ?? 0) > 0);
        // the same place of the same measure, and the same to be played there
        const key = ({ measure, beat, asChord, melody, chord }: (typeof played)[number]): string =>
          JSON.stringify([measure, beat, asChord, melody?.midi, chord?.symbol]);
        const firsts = played.map((onset) => played.findIndex((each) => key(each) === key(onset)));
        fc.pre(firsts.some((one, at) => one !== at));
        const plain = everyWay(setup, layers, played, wishes).filter(({ text }) => {
          const steps = text.trim().split(' ');
          return firsts.every((one, at) => steps[at] === steps[one]);
        });
        const { ways } = arrangeTune(setup, piece, textures, wishes, 6);
        expect(ways.map(({ total }) => thousandths(total))).toEqual(
          plain.slice(0, 6).map(({ cost }) => cost),
        );
        for (const { steps } of ways) {
          const texts = steps.map(({ hold, way }) => textOf({ ...hold, engaged: way }));
          firsts.forEach((one, at) => expect(texts[at]).toBe(texts[one]));
        }
        compared++;
      },
    ),
    { numRuns: runs(30, 600) },
  );
  expect(compared).toBeGreaterThan(20);
});
