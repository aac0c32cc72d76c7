/** Pockets and ladders against every way there is of playing them, laid out one by one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scaleOn, SCALE_TYPES, type Scale } from '$lib/theory/scales';
import { combinations } from '$lib/setup/reach';
import { movesOf } from '$lib/setup/sounding';
import type { Setup } from '$lib/setup/setup';
import { noWishes } from '$lib/arrange/wishes';
import { inPocketOrder, pocketsIn, priced, runThrough } from '$lib/scales/pockets';
import { LADDER_INTERVALS, LADDER_WAYS, ladder, refusedLadder } from '$lib/scales/ladders';
import { onsetsIn } from '$lib/scales/sequence';
import { runs } from '../battery';
import { smallSetup } from './generators';
import { candidates, classesOf, everyWay, thousandths } from './plainTune';

const scales: fc.Arbitrary<Scale> = fc
  .record({
    type: fc.constantFrom(...SCALE_TYPES.filter(({ degrees }) => degrees.length < 9)),
    root: fc.constantFrom('C', 'E', 'G', 'A'),
  })
  .map(({ type, root }) => scaleOn({ letter: root, alter: 0 }, type));

/** A setup of one neck, so that the plain search does not look on another. */
const oneNeck = smallSetup.map((setup): Setup => ({
  ...setup,
  frets: Math.min(4, setup.frets),
  necks: setup.necks.slice(0, 1),
}));

const isIn = ({ tones }: Scale, midi: number): boolean =>
  tones.some(({ chroma }) => chroma === midi % 12);

/** The least that a sequence of sounds costs, by laying out every way; `undefined` where there is none. */
function leastBy(
  setup: Setup,
  scale: Scale,
  sounds: readonly (readonly number[])[],
  [low, high]: readonly [number, number],
  time: { lasts: number; tempo: number },
  strings: readonly number[] | undefined,
): number | undefined {
  const layers = sounds.map((pitches) =>
    candidates(setup, new Set([classesOf(pitches)]), [pitches.length, pitches.length], (found) =>
      pitches.every((pitch) => found.includes(pitch)),
    ).filter(
      ({ hold }) =>
        hold.neck === 1 &&
        hold.fret >= low &&
        hold.fret <= high &&
        hold.strings.every((string) => strings?.includes(string) ?? true),
    ),
  );
  if (layers.some((layer) => layer.length === 0)) return undefined;
  const ways = layers.reduce((product, layer) => product * layer.length, 1);
  if (ways > 40_000) return NaN;
  const onsets = onsetsIn(scale, { sounds, ...time });
  return everyWay(setup, layers, onsets, noWishes(false))[0]?.cost;
}

describe('pockets', () => {
  it('have every note that some string has there, and the least work to play them', () => {
    let compared = 0;
    fc.assert(
      fc.property(oneNeck, scales, fc.integer({ min: 0, max: 3 }), (setup, scale, stretch) => {
        const open = (setup.necks[0]?.strings ?? []).map((string) => string.open.midi);
        const found = pocketsIn(setup, scale, 1, stretch);
        const width = Math.min(stretch, setup.frets);
        for (let first = 0; first + width <= setup.frets; first++) {
          // every combination, every fret, every string
          const notes = new Set<number>();
          for (const choice of combinations(setup)) {
            const moves = movesOf(setup, 1, choice);
            for (let fret = first; fret <= first + width; fret++)
              open.forEach((midi, s) => {
                const pitch = midi + (moves[s] ?? 0) + fret;
                if (isIn(scale, pitch)) notes.add(pitch);
              });
          }
          const pocket = found.find(({ frets }) => frets[0] === first);
          expect(pocket?.notes ?? []).toEqual([...notes].sort((a, b) => a - b));
          if (pocket === undefined) continue;
          // the unbroken part: by looking at every part between two of the notes
          const whole = (from: number, to: number): boolean =>
            Array.from({ length: to - from + 1 }, (_, at) => from + at).every(
              (midi) => !isIn(scale, midi) || notes.has(midi),
            );
          const longest = Math.max(
            ...[...notes].flatMap((from) =>
              [...notes]
                .filter((to) => to >= from && whole(from, to))
                .map((to) => [...notes].filter((each) => each >= from && each <= to).length),
            ),
          );
          const [from, to] = pocket.range;
          const own = [...notes].filter((each) => each >= from && each <= to);
          expect(whole(from, to)).toBe(true);
          expect(own).toHaveLength(longest);
          // up and down
          if (own.length > 4) continue;
          const up = own.sort((a, b) => a - b);
          const sounds = [...up, ...up.slice(0, -1).reverse()].map((pitch) => [pitch]);
          const time = { lasts: 0.5, tempo: 100 };
          const least = leastBy(setup, scale, sounds, pocket.frets, time, undefined);
          if (Number.isNaN(least)) continue;
          const { total } = priced(setup, scale, 1, pocket);
          expect(thousandths(total)).toBe(least);
          const run = runThrough(setup, scale, 1, pocket);
          expect(thousandths(run.total)).toBe(least);
          expect(run.steps.map(({ hold }) => hold.pitches)).toEqual(sounds);
          compared++;
        }
        const order = inPocketOrder(found.map((each) => priced(setup, scale, 1, each)));
        order.slice(1).forEach((each, at) => {
          const before = order[at];
          const key = (p: typeof each) => [-p.tones, -p.octaves, p.perNote, p.frets[0]];
          const apart = key(each).map((value, i) => value - (key(before ?? each)[i] ?? 0));
          expect(apart.find((value) => value !== 0) ?? 0).toBeGreaterThan(0);
        });
      }),
      { numRuns: runs(24) },
    );
    expect(compared).toBeGreaterThan(10);
  });
});

describe('ladders', () => {
  it('go through the scale without a gap, in their interval, with the least work', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        oneNeck,
        scales,
        fc.constantFrom(...LADDER_INTERVALS),
        fc.constantFrom(...LADDER_WAYS),
        fc.boolean(),
        (setup, scale, interval, way, some) => {
          if (refusedLadder(scale, interval) !== undefined) return;
          const strings = some ? [1, 2, 3] : undefined;
          const frets = [0, setup.frets] as const;
          const question = { neck: 1, frets, slants: false, interval, way };
          const found = ladder(setup, scale, {
            ...question,
            ...(strings === undefined ? {} : { strings }),
          });
          if (found === undefined) return;
          const sounds = found.rungs.map(({ step }) =>
            [...step.hold.pitches].sort((a, b) => a - b),
          );
          for (const pitches of sounds)
            for (const pitch of pitches) expect(isIn(scale, pitch)).toBe(true);
          const sizes = { thirds: [3, 4], sixths: [8, 9], tenths: [15, 16], octaves: [12] };
          // of scales of seven notes the steps count: they may have other sizes
          if (interval !== 'triads' && (scale.tones.length !== 7 || interval === 'octaves'))
            for (const [low = 0, high = 0] of sounds) expect(sizes[interval]).toContain(high - low);
          // letters from the one voice to the other: a third is the second note above
          const steps = { thirds: 2, sixths: 5, tenths: 9, octaves: 7 };
          if (interval !== 'triads' && scale.tones.length === 7)
            for (const [low = 0, high = 0] of sounds)
              expect(
                Array.from({ length: high - low }, (_, at) => low + 1 + at).filter((midi) =>
                  isIn(scale, midi),
                ),
              ).toHaveLength(steps[interval]);
          if (found.rungs.length > 5) return;
          const time = { lasts: 1, tempo: 60 };
          const least = leastBy(setup, scale, sounds, frets, time, strings);
          if (least === undefined) throw new Error('the plain search does not find it');
          if (Number.isNaN(least)) return;
          expect(thousandths(found.total)).toBe(least);
          compared++;
        },
      ),
      { numRuns: runs(140) },
    );
    expect(compared).toBeGreaterThan(10);
  });

  it('leave no rung out that could be played', () => {
    fc.assert(
      fc.property(oneNeck, scales, (setup, scale) => {
        if (scale.tones.length !== 7) return;
        const question = {
          ...{ neck: 1, frets: [0, setup.frets] as const, slants: false },
          ...({ interval: 'octaves', way: 'up' } as const),
        };
        const found = ladder(setup, scale, question);
        const playable = (top: number): boolean =>
          candidates(setup, new Set([classesOf([top])]), [2, 2], (pitches) =>
            [top - 12, top].every((each) => pitches.includes(each)),
          ).some(({ hold }) => hold.neck === 1);
        // the longest unbroken row of tops, by asking for each of them
        const notes = Array.from({ length: 100 }, (_, at) => at + 20).filter((midi) =>
          isIn(scale, midi),
        );
        let longest = 0;
        let now = 0;
        for (const top of notes) longest = Math.max(longest, (now = playable(top) ? now + 1 : 0));
        expect(found?.rungs.length ?? 0).toBe(longest < 2 ? 0 : longest);
      }),
      { numRuns: runs(15) },
    );
  });
});
