/** Tunes in all textures against every way there is of playing them, laid out one by one. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pitchNamed, type Pitch } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { combinations } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms } from '$lib/effort/clarity';
import { effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import { barMoveTerms, feetMoveTerms, moveFromHome, type SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { EVEN_WAY, REACH_WEIGHTS as REACH, type Term, type WayBalance } from '$lib/effort/weights';
import { onsetsOf, type Onset } from '$lib/arrange/onsets';
import type { Piece } from '$lib/arrange/piece';
import { HARMONIES, TEXTURES, type Textures } from '$lib/arrange/texture';
import { arrangeTune } from '$lib/arrange/tune';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { codeOf, engagedOf, holdsAfter } from './plainHolds';
import { plainOpen, plainSearch, plainSets } from './plainSearch';

const chordOf = (symbol: string): Chord => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return read.value;
};
const thousandths = (value: number): number => Math.round(value * 1000);
const textOf = ({ neck, fret, strings, engaged }: SoundingHold): string =>
  `${neck}/${fret}/${strings.join('-')}/${codeOf(engaged)}`;

interface PlainCandidate {
  readonly hold: SoundingHold;
  readonly terms: readonly Term[];
}

/** Strings that a raise and a lower move at once. */
const splitsOf = (setup: Setup, hold: SoundingHold): number =>
  hold.strings.filter((string) => {
    const alone = hold.engaged.map(
      (each: Engaged) =>
        plainOpen(setup, hold.neck, string, [each]) - plainOpen(setup, hold.neck, string, []),
    );
    return alone.some((move) => move > 0) && alone.some((move) => move < 0);
  }).length;

const classesOf = (pitches: readonly number[]): string =>
  [...new Set(pitches.map((pitch) => pitch % 12))].sort((a, b) => a - b).join(' ');

/** Everything that sounds a set, in every way, as far as a test of its pitches lets through. */
function candidates(
  setup: Setup,
  sets: ReadonlySet<string>,
  sizes: readonly [number, number],
  isWanted: (pitches: readonly number[]) => boolean,
): PlainCandidate[] {
  return setup.necks.flatMap((on, place) => {
    const neck = place + 1;
    const [found = []] = plainSearch(setup, { neck, frets: [0, setup.frets], sizes }, [{ sets }]);
    return found
      .filter(({ pitches }) => isWanted(pitches))
      .flatMap(({ fret, strings, pitches, ways }) =>
        ways.map((way) => {
          const hold = { neck, fret, slant: 0, strings, pitches, engaged: engagedOf(way) };
          const ascending = [...pitches].sort((a, b) => a - b);
          const terms = [
            { part: 'feet', name: '', value: REACH.split * splitsOf(setup, hold) } as const,
            ...pickingTerms(on, strings),
            ...barTerms(setup, fret, undefined, 0),
            ...heightTerms(fret),
            ...closeTerms(ascending),
            ...lowTerms(ascending),
          ];
          return { hold, terms };
        }),
      );
  });
}

/** What can be played at a moment; with less of it where there is none with all. */
function candidatesAt(setup: Setup, onset: Onset, sizes: readonly [number, number]) {
  const { melody, second, chord, asChord } = onset;
  const top = (pitches: readonly number[]): boolean =>
    melody === undefined || Math.max(...pitches) === melody.midi;
  if (asChord && chord !== undefined)
    for (const match of ['lean', 'rootless'] as const) {
      const own = melody === undefined ? [] : [melody.midi % 12];
      const sets = [...plainSets(chord, match)].map((classes) =>
        classesOf([...classes.split(' ').map(Number), ...own]),
      );
      const found = candidates(setup, new Set(sets), sizes, top);
      if (found.length > 0) return found;
    }
  // two strings that say a chord are tested by hand, and left out here
  if (asChord) return [];
  if (melody !== undefined && second !== undefined) {
    const asked = [second.midi, melody.midi];
    const found = candidates(setup, new Set([classesOf(asked)]), [2, 2], (pitches) =>
      asked.every((each) => pitches.includes(each)),
    );
    if (found.length > 0) return found;
  }
  if (melody === undefined) return [];
  return candidates(setup, new Set([classesOf([melody.midi])]), [1, 1], top);
}

/** What the hand does from one to the next: section 15 of the contract, in the weights' words. */
function reachCost(from: SoundingHold, to: SoundingHold, last: Onset, onset: Onset): number {
  const joined = Math.abs(last.at + last.lasts - onset.at) < 1e-5;
  const seconds = Math.round(Math.min(1, onset.seconds - last.seconds) * 1000) / 1000;
  const sameBar = from.neck === to.neck && from.fret === to.fret;
  const frets = to.fret - from.fret;
  const top = to.strings[to.pitches.indexOf(Math.max(...to.pitches))];
  const sings = onset.melody === undefined ? undefined : top;
  const before = (string: number): number | undefined =>
    from.neck === to.neck ? from.pitches[from.strings.indexOf(string)] : undefined;
  let cost = 0;
  const picked: number[] = [];
  let slides = false;
  let melodyRings = false;
  to.strings.forEach((string, at) => {
    const was = before(string);
    const steps = (to.pitches[at] as number) - (was ?? 0);
    if (!joined || was === undefined) picked.push(string);
    else if (sameBar && steps === 0) {
      if (string === sings && !onset.melodyLasts) picked.push(string);
      else if (string === sings) melodyRings = true;
    } else if (sameBar) cost += REACH.pullPerSemitone * Math.max(0, Math.abs(steps) - 2);
    else if (steps === frets && Math.abs(frets) <= 4) slides = true;
    else picked.push(string);
  });
  const anew = picked.filter((string) => before(string) === undefined).length;
  if (picked.length > 0) cost += REACH.stroke + REACH.string * anew;
  if (slides) cost += REACH.slide + REACH.slidePerFret * Math.max(0, Math.abs(frets) - 2);
  if (seconds < 0.15) {
    const waiting = Math.min(anew, Math.max(0, from.strings.length + anew - 3));
    cost += REACH.sameFinger * (picked.length - anew + waiting);
  }
  if (onset.between && joined && !sameBar) cost += REACH.leavesChord;
  if (onset.melodyLasts && !melodyRings) cost += REACH.restruck;
  return cost;
}

/** Every way of playing it, as its least cost over all that may stay engaged, and its text. */
function everyWay(
  setup: Setup,
  layers: readonly (readonly PlainCandidate[])[],
  onsets: readonly Onset[],
  { balance, home }: Wishes,
): { cost: number; text: string }[] {
  const reachable = new Set([...combinations(setup)].map(codeOf));
  let ways: { cost: number; text: string; last?: SoundingHold }[] = [{ cost: 0, text: '' }];
  layers.forEach((layer, at) => {
    const onset = onsets[at] as Onset;
    const before = onsets[at - 1];
    const next = new Map<string, (typeof ways)[number]>();
    for (const { cost, text, last } of ways)
      for (const { hold: needs, terms } of layer)
        for (const hold of holdsAfter(setup, reachable, last, needs)) {
          const engaging = engagingTerms(setup, last?.engaged ?? [], needs.engaged);
          const effort = thousandths(effortOf([...engaging, ...terms], balance).total);
          const seconds = Math.round(1000 * Math.min(1, onset.seconds - (before?.seconds ?? 0)));
          const part = (all: readonly { value: number }[], weight: number): number =>
            Math.round(thousandths(all.reduce((sum, { value }) => sum + value, 0)) * weight);
          const move =
            last !== undefined && before !== undefined
              ? part(barMoveTerms(setup, last, hold, seconds / 1000), balance.bar) +
                part(feetMoveTerms(setup, last, hold), balance.feet) +
                part([{ value: reachCost(last, hold, before, onset) }], balance.picking)
              : home === undefined
                ? 0
                : thousandths(moveFromHome(setup, home, hold, balance).total);
          const sum = cost + effort + move;
          const way = { cost: sum, text: `${text} ${textOf(needs)}`, last: hold };
          // the same so far, held the same now: only the least can count
          const key = `${way.text}|${textOf(hold)}`;
          if (sum < (next.get(key)?.cost ?? Infinity)) next.set(key, way);
        }
    ways = [...next.values()];
  });
  const least = new Map<string, number>();
  for (const { cost, text } of ways) least.set(text, Math.min(cost, least.get(text) ?? Infinity));
  return [...least].map(([text, cost]) => ({ cost, text })).sort((a, b) => a.cost - b.cost);
}

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
    { numRuns: runs(250) },
  );
  for (const texture of TEXTURES) expect(compared.get(texture) ?? 0, texture).toBeGreaterThan(0);
});
