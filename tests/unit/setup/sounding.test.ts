import { describe, expect, it } from 'vitest';
import { parsePitch } from '$lib/theory/pitch';
import { builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import type { Engaged, Setup } from '$lib/setup/setup';
import { movesOf, sounding } from '$lib/setup/sounding';

/** `A RKR½`: ids apart by spaces, ½ for the half-stop. */
const engaged = (text: string): Engaged[] =>
  text
    .split(' ')
    .filter((id) => id !== '')
    .map((id) =>
      id.endsWith('½') ? { id: id.slice(0, -1), state: 'half' } : { id, state: 'full' },
    );
const midi = (text: string): number[] =>
  text.split(' ').map((pitch) => parsePitch(pitch)?.midi ?? NaN);

const E9 = builtIn('e9');

describe('what a combination sounds (model, section 2)', () => {
  // worked by hand from the pulls of E9 (common practice of the trade)
  it.each([
    ['nothing', '', 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2'],
    ['A and B', 'A B', 'F#4 D#4 A4 E4 C#4 A3 F#3 E3 D3 C#3'],
    ['A and LKL', 'A LKL', 'F#4 D#4 G#4 F4 C#4 G#3 F#3 F3 D3 C#3'],
    ['RKL', 'RKL', 'G4 E4 G#4 E4 B3 F#3 F#3 E3 D3 B2'],
    ['RKR', 'RKR', 'F#4 C#4 G#4 E4 B3 G#3 F#3 E3 C#3 B2'],
  ])('of %s on E9', (_, controls, pitches) => {
    expect(sounding(E9, 1, engaged(controls), 0)).toEqual(midi(pitches));
  });

  it('two raises of one string do not add: A and C both raise string 5 to C#', () => {
    expect(sounding(E9, 1, engaged('A C'), 0)[4]).toBe(parsePitch('C#4')?.midi);
  });

  it('a raise and a lower add: A with LKV is a split, C on string 5', () => {
    // B + 2 − 1; and nothing else of the neck but string 10 is split
    const split = sounding(E9, 1, engaged('A LKV'), 0);
    expect(split).toEqual(midi('F#4 D#4 G#4 E4 C4 G#3 F#3 E3 D3 C3'));
  });

  it('a split of B and RKL on string 6 is one semitone below the open string', () => {
    // G# + 1 − 2 = G
    expect(sounding(E9, 1, engaged('B RKL'), 0)[5]).toBe(parsePitch('G3')?.midi);
  });

  it('a half-stop moves only the pulls that have one: RKR lowers string 2 alone by a semitone', () => {
    expect(movesOf(E9, 1, engaged('RKR½'))).toEqual([0, -1, 0, 0, 0, 0, 0, 0, 0, 0]);
    expect(movesOf(E9, 1, engaged('RKR'))).toEqual([0, -2, 0, 0, 0, 0, 0, 0, -1, 0]);
  });

  it('the bar moves every string alike', () => {
    const atNut = sounding(E9, 1, engaged('B LKR'), 0);
    expect(sounding(E9, 1, engaged('B LKR'), 17)).toEqual(atNut.map((pitch) => pitch + 17));
  });

  it('each neck of a double neck has its own pulls', () => {
    const double = builtIn('double');
    expect(sounding(double, 1, engaged('LKR'), 0)).toEqual(sounding(E9, 1, engaged('LKR'), 0));
    // E9: strings 4 and 8 E→D#; C6: string 4 A→A#
    expect(movesOf(double, 1, engaged('LKR'))).toEqual([0, 0, 0, -1, 0, 0, 0, -1, 0, 0]);
    expect(movesOf(double, 2, engaged('LKR'))).toEqual([0, 0, 0, 1, 0, 0, 0, 0, 0, 0]);
    expect(movesOf(double, 1, engaged('P5 P6'))).toEqual(new Array(10).fill(0));
    expect(movesOf(double, 2, engaged('A B'))).toEqual(new Array(10).fill(0));
  });
});

describe('the farthest pull counts', () => {
  /** One string under five levers and a pedal, made for these rules. */
  function oneString(): Setup {
    const pulls = { P1: 1, P2: 3, LKL: 5, LKR: -1, RKL: -4, RKR: -2 };
    const read = readSetup({
      format: 1,
      name: 'one string, six controls',
      necks: [{ name: 'n', strings: [{ open: 'C4' }] }],
      controls: Object.entries(pulls).map(([station, semitones]) => ({
        id: station,
        station,
        pulls: [
          {
            string: 1,
            semitones,
            ...(Math.abs(semitones) > 2 ? { half: Math.sign(semitones) * 2 } : {}),
          },
        ],
      })),
    });
    if (!read.ok) throw new Error(JSON.stringify(read.error));
    return read.value;
  }

  // max(0, raises) + min(0, lowers), by hand; the order of the controls does not matter
  it.each([
    ['P1 P2', 3],
    ['P2 P1', 3],
    ['P1 P2 LKL', 5],
    ['LKR RKL', -4],
    ['RKL LKR', -4],
    ['LKR RKR', -2],
    ['P1 LKR', 0],
    ['P2 RKL', -1],
    ['P1 P2 RKL', -1],
    ['LKL RKR', 3],
    ['P2½', 2],
    ['P1 P2½', 2],
    ['P2½ LKL½', 2],
    ['P2 LKL½', 3],
    ['LKL½ RKL½', 0],
    ['RKL½ LKR', -2],
  ])('%s move the string by %i', (controls, semitones) => {
    expect(movesOf(oneString(), 1, engaged(controls))).toEqual([semitones]);
  });
});
