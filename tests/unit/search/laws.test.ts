import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { unreachable } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { runs } from '../../battery';
import { smallSetup } from '../../property/generators';
import { plainOpen } from '../../property/plainSearch';
import { ask, keyOf, wayText, wholeOf } from './asking';

const CHORDS = ['C', 'Gm', 'A7', 'D6', 'Esus4', 'C5', 'Bdim', 'F/A'] as const;
const symbols = fc.constantFrom(...CHORDS);
const wide = { sizes: [2, 4], match: 'rootless' } as const;

describe('the bar transposes everything', () => {
  const NEXT = { C: 'C#', Gm: 'G#m', A7: 'A#7', 'C/E': 'C#/E#', Bdim: 'Cdim' } as const;

  const agree = (setup: Setup, symbol: keyof typeof NEXT, slants: boolean): number => {
    const last = setup.frets;
    const here = ask(setup, symbol, { ...wide, slants, frets: [1, last - 1] });
    const above = ask(setup, NEXT[symbol], { ...wide, slants, frets: [2, last] });
    const up = here.map(({ voicing }) =>
      wholeOf({
        ...voicing,
        frets: voicing.frets.map((fret) => fret + 1),
        pitches: voicing.pitches.map((pitch) => pitch + 1),
      }),
    );
    expect(above.map(({ voicing }) => wholeOf(voicing)).sort()).toEqual(up.sort());
    return here.length;
  };

  it.each(['e9', 'lap6-c6', 'square6-g'] as const)(
    'a fret up on %s every pitch is a semitone higher and answers the chord a semitone higher',
    (id) => {
      const symbols = Object.keys(NEXT) as (keyof typeof NEXT)[];
      const counts = symbols.map((symbol) => agree(builtIn(id), symbol, id !== 'e9'));
      // a diminished triad may be nowhere on a neck without pedals, a major one is everywhere
      expect(counts[0]).toBeGreaterThan(0);
    },
  );

  it('and so on random setups', () => {
    const withFrets = smallSetup.filter((setup) => setup.frets >= 2);
    fc.assert(
      fc.property(
        withFrets,
        fc.constantFrom('C', 'Gm', 'A7', 'C/E'),
        fc.boolean(),
        (setup, symbol, slants) => void agree(setup, symbol as keyof typeof NEXT, slants),
      ),
    );
  });
});

describe('one control more', () => {
  it('never takes a voicing away, and one less never makes a voicing easier', () => {
    const withControls = smallSetup.filter(({ controls }) => controls.length > 0);
    fc.assert(
      fc.property(withControls, symbols, fc.nat(), (setup, symbol, pick) => {
        const { controls } = setup;
        const gone = controls[pick % controls.length]?.id ?? '';
        const effortOf = new Map(
          ask(setup, symbol, wide).map(({ voicing, effort }) => [keyOf(voicing), effort.total]),
        );
        for (const { voicing, effort } of ask(setup, symbol, { ...wide, without: [gone] })) {
          expect(effortOf.has(keyOf(voicing))).toBe(true);
          expect(effort.total).toBeGreaterThanOrEqual(effortOf.get(keyOf(voicing)) ?? Infinity);
        }
        // the same of the setup itself, the control being unscrewed
        const poorer = { ...setup, controls: controls.filter(({ id }) => id !== gone) };
        for (const { voicing } of ask(poorer, symbol, wide))
          expect(effortOf.has(keyOf(voicing))).toBe(true);
      }),
    );
  });
});

describe('the ways of a voicing (model, section 4)', () => {
  const check = (setup: Setup, symbol: string): void => {
    for (const { voicing } of ask(setup, symbol, wide)) {
      const { neck, strings, frets, pitches, ways } = voicing;
      expect(ways.length).toBeGreaterThan(0);
      expect(new Set(ways.map(wayText)).size).toBe(ways.length);
      for (const way of ways) {
        expect(unreachable(setup, way)).toBeUndefined();
        const sound = (engaged: typeof way): number[] =>
          strings.map((string, i) => plainOpen(setup, neck, string, engaged) + (frets[i] ?? 0));
        expect(sound(way)).toEqual(pitches);
        // no control can be let go: what remains cannot be held, or sounds otherwise
        for (const gone of way) {
          const rest = way.filter((each) => each !== gone);
          if (unreachable(setup, rest) === undefined) expect(sound(rest)).not.toEqual(pitches);
        }
      }
    }
  };

  it('all sound its pitches, and none engages a control that could be let go', () => {
    fc.assert(fc.property(smallSetup, symbols, check), { numRuns: runs(60, 2000) });
  });

  it('on E9 too', () => {
    check(builtIn('e9'), 'F#m');
  });

  it('count a pedal as needed where it bridges a gap that the foot could not hold', () => {
    // E9: A raises 10 to C#, C raises 4 to F#; B moves neither, but lies between the two. By hand.
    const e9 = builtIn('e9');
    const asked = { sizes: [2, 2], strings: [4, 10], frets: [0, 0] } as const;
    const threeAtOnce = { ...e9, reach: { ...e9.reach, pedalsAtOnce: 3 } };
    const [first, ...more] = ask(threeAtOnce, 'F#5', asked);
    expect(more).toEqual([]);
    expect(first?.voicing.ways.map(wayText)).toEqual(['A+B+C']);
    expect(ask(e9, 'F#5', asked)).toEqual([]);
  });
});

describe('no voicing is listed twice', () => {
  it('on random setups, with and without slants', () => {
    fc.assert(
      fc.property(smallSetup, symbols, fc.boolean(), (setup, symbol, slants) => {
        const keys = ask(setup, symbol, { ...wide, slants }).map(({ voicing }) => keyOf(voicing));
        expect(new Set(keys).size).toBe(keys.length);
      }),
    );
  });
});
