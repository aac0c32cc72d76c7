/** The strings heard by numbers: they mellow, ring, balance, move without a click and fall silent. */
import { describe, expect, it } from 'vitest';
import { RIG, actionsOf, type Expression } from '$lib/rendering/actions';
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import { renderNotes } from '$lib/rendering/renderSound';
import { notesOf, type ScheduledNote } from '$lib/playing/schedule';
import {
  amplitudeOf,
  brightness,
  centsBetween,
  cornerOf,
  dbOf,
  hzAt,
  peakOf,
  rmsOf,
  wanted,
} from '../../listening/ear';

const RATE = 48_000;
const DRY = { ...RIG, room: 0 };

const heard = (notes: readonly ScheduledNote[], how: Partial<Expression> = {}): Float32Array =>
  renderNotes(notes, { referenceHz: 440, sampleRate: RATE, ...how }).left;

const note = (midi: number, more: Partial<ScheduledNote> = {}): ScheduledNote => ({
  string: 1,
  midi,
  at: 0,
  duration: 4,
  ...more,
});

// B1 to E6
const RANGE = [35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 88];

describe('a struck string', () => {
  it.each(RANGE)('is bright at first and mellows as it rings: MIDI %i', (midi) => {
    const sound = heard([note(midi)], { rig: DRY });
    const [first = 0, second = 0, third = 0] = [0.02, 0.7, 2.5].map((at) =>
      brightness(sound, RATE, wanted(midi), at),
    );
    expect(second).toBeLessThan(first);
    expect(third).toBeLessThan(second);
    // more than a sine, less than a buzz
    expect(first).toBeGreaterThan(1.5);
    expect(first).toBeLessThan(6);
  });

  /** Seconds in which the fundamental falls by 60 dB with the pedal at rest. */
  const fallOf = (one: ScheduledNote): number => {
    const sound = heard([one], { rig: DRY, pedalStays: true });
    const level = (at: number): number =>
      dbOf(amplitudeOf(sound, RATE, wanted(one.midi), at, 8192));
    return (60 * 2) / (level(0.5) - level(2.5));
  };

  it('rings for many seconds, the longer the lower it is', () => {
    const falls = RANGE.map((midi) => fallOf(note(midi)));
    expect(falls).toEqual([...falls].sort((a, b) => b - a));
    // solid-body instruments, from memory: 8 s for a thin string to 30 s for the heaviest, open
    expect(falls.at(0)).toBeGreaterThan(15);
    expect(falls.at(0)).toBeLessThan(30);
    expect(fallOf(note(64))).toBeGreaterThan(8);
    expect(falls.at(-1)).toBeGreaterThan(3);
  });

  it.each([35, 52, 64, 76])('rings as long as it is told to: MIDI %i', (midi) => {
    for (const falls of [5, 12, 25])
      expect(fallOf(note(midi, { falls })) / falls).toBeCloseTo(1, 1);
  });

  it('is as loud on every string, within 3 dB', () => {
    const levels = RANGE.map((midi) =>
      dbOf(rmsOf(heard([note(midi)], { pedalStays: true }), RATE, 0, 0.5)),
    );
    expect(Math.max(...levels) - Math.min(...levels)).toBeLessThan(3);
  });

  it('is softer and duller where it is struck softly', () => {
    const loud = heard([note(60)]);
    const soft = heard([note(60, { level: 0.5 })]);
    expect(dbOf(rmsOf(loud, RATE, 0, 1) / rmsOf(soft, RATE, 0, 1))).toBeGreaterThan(5);
    expect(brightness(soft, RATE, wanted(60), 0.05)).toBeLessThan(
      brightness(loud, RATE, wanted(60), 0.05),
    );
  });

  it('sounds an octave up where the palm touches its middle, in tune and without its fundamental', () => {
    for (const midi of [40, 52, 64, 76]) {
      const sound = heard([note(midi, { harmonic: true })], { rig: DRY });
      const level = (hz: number): number => amplitudeOf(sound, RATE, hz, 0.2, 16_384);
      expect(dbOf(level(wanted(midi + 12)) / level(wanted(midi)))).toBeGreaterThan(40);
      expect(Math.abs(centsBetween(hzAt(sound, RATE, 0.2), wanted(midi + 12)))).toBeLessThan(0.5);
    }
  });

  it('sounds at pitches far above the last fret, and however soon it falls', () => {
    for (const midi of [92, 100, 108])
      for (const falls of [0.5, 2, 20]) {
        const sound = heard([note(midi, { falls, duration: 0.3 })]);
        expect(peakOf(sound)).toBeGreaterThan(0.001);
        expect(sound.every((sample) => Number.isFinite(sample))).toBe(true);
      }
  });

  it('is the same in every rendering', () => {
    const [first, again] = [heard([note(60)]), heard([note(60)])];
    expect(first.every((sample, i) => sample === again[i])).toBe(true);
  });

  it('stays what it is through an amplifier that is driven', () => {
    for (const midi of RANGE) {
      const sound = heard([note(midi)], { rig: { ...DRY, amplifier: true } });
      expect(Math.abs(centsBetween(hzAt(sound, RATE, 0.3), wanted(midi)))).toBeLessThan(0.5);
    }
  });
});

describe('without a click', () => {
  // a corner in the wave is as sharp as the ringing itself makes it, or it is a click
  const ringing = (sound: Float32Array, from: number, to: number): number =>
    cornerOf(sound, RATE, from, to);

  it.each([
    ['a control bends', 60, 62, 0.09, 'pull'],
    ['a control bends as fast as it can', 64, 66, 0.06, 'pull'],
    ['the bar slides an octave', 52, 64, 0.25, 'bar'],
    ['the bar slides down', 80, 68, 0.2, 'bar'],
    ['the lowest string is raised', 35, 37, 0.09, 'pull'],
  ] as const)('%s: MIDI %i to %i', (_what, from, to, over, by) => {
    const glides = [{ at: 1, over, to, by }];
    const sound = heard([note(from, { glides })], { rig: DRY });
    const before = ringing(sound, 0.8, 0.99);
    // a rise makes every corner sharper by the square of its ratio
    const sharper = Math.max(1, 2 ** ((to - from) / 6));
    expect(ringing(sound, 0.99, 1 + over + 0.1)).toBeLessThan(1.3 * sharper * before);
  });

  it.each(RANGE)('MIDI %i is damped, and silent a tenth of a second later', (midi) => {
    const sound = heard([note(midi, { duration: 1 })], { rig: DRY });
    expect(ringing(sound, 0.98, 1.1)).toBeLessThan(1.15 * ringing(sound, 0.88, 0.99));
    expect(dbOf(rmsOf(sound, RATE, 0.9, 1))).toBeGreaterThan(-50);
    expect(dbOf(rmsOf(sound, RATE, 1.1, 1.2) + 1e-9)).toBeLessThan(-100);
  });

  it('the same string is struck again while it rings', () => {
    const once = heard([note(45)], { rig: DRY });
    const twice = heard([note(45, { duration: 1 }), note(45, { at: 1 })], { rig: DRY });
    // no sharper than a first stroke is
    expect(ringing(twice, 0.95, 1.3)).toBeLessThan(1.3 * ringing(once, 0, 0.3));
    expect(dbOf(rmsOf(twice, RATE, 1.1, 1.5) / rmsOf(once, RATE, 0.1, 0.5))).toBeCloseTo(0, 0);
  });
});

describe('hands and feet', () => {
  it('take strings along with the bar in parallel, at every moment', () => {
    // E and B a fourth apart, slid five frets; both windows lie within the slide
    const slide = (midi: number): Float32Array =>
      heard([note(midi, { glides: [{ at: 0.4, over: 0.5, to: midi + 5, by: 'bar' }] })], {
        rig: DRY,
      });
    const [low, high] = [slide(59), slide(64)];
    for (const at of [0.5, 0.6, 0.7]) {
      const interval = centsBetween(hzAt(high, RATE, at, 2048), hzAt(low, RATE, at, 2048));
      expect(interval).toBeGreaterThan(480);
      expect(interval).toBeLessThan(520);
    }
  });

  it('slide along true fret distances: half of the way from fret 0 to fret 12 is fret 4.98', () => {
    // fret n lies at 1 − 2^(−n/12) of the string: the octave at 1/2, half of that at 1/4, where
    // n = −12 · log2(3/4) = 4.98. A pull has gone half way when the square of the frequency has.
    const half = (by: 'bar' | 'pull'): number => {
      const sound = heard([note(52, { glides: [{ at: 0.4, over: 1, to: 64, by }] })], {
        rig: DRY,
      });
      return centsBetween(hzAt(sound, RATE, 0.9 - 512 / RATE, 1024), wanted(52)) / 100;
    };
    expect(half('bar')).toBeCloseTo(4.98, 0);
    // 12 · log2(√((1 + 4) / 2)) = 7.93
    expect(half('pull')).toBeCloseTo(7.93, 0);
  });

  it('roll the bar about the pitch, not away from it', () => {
    const sound = heard([note(64)], { vibrato: true, rig: DRY });
    const pitches = Array.from({ length: 60 }, (_, step) =>
      centsBetween(hzAt(sound, RATE, 1.3 + step * 0.02, 2048), wanted(64)),
    );
    const mean = pitches.reduce((sum, each) => sum + each, 0) / pitches.length;
    expect(Math.abs(mean)).toBeLessThan(1.5);
    expect(Math.max(...pitches)).toBeGreaterThan(8);
    expect(Math.max(...pitches)).toBeLessThan(20);
    expect(Math.min(...pitches)).toBeLessThan(-8);
    // before the hand begins it stands still
    expect(Math.abs(centsBetween(hzAt(sound, RATE, 0.15), wanted(64)))).toBeLessThan(0.5);
  });

  it('open the volume pedal after the stroke, so that nothing is heard of it', () => {
    const plain = heard([note(64)], { rig: DRY });
    const swelled = heard([note(64)], { rig: DRY, swell: true });
    expect(dbOf(peakOf(swelled.subarray(0, 0.04 * RATE)) / peakOf(plain))).toBeLessThan(-25);
    expect(rmsOf(swelled, RATE, 0.6, 0.8)).toBeGreaterThan(2 * rmsOf(swelled, RATE, 0.08, 0.18));
    expect(dbOf(rmsOf(swelled, RATE, 1, 2) / rmsOf(plain, RATE, 1, 2))).toBeCloseTo(0, 0);
  });

  it('keep what rings as loud as it was struck, with the swell too, as far as the pedal goes', () => {
    // the pedal gives 20 dB, which this string has lost after 3 s and a little
    for (const swell of [false, true]) {
      const sound = heard([note(59, { falls: 12, duration: 6 })], { rig: DRY, swell });
      const level = (at: number): number => dbOf(rmsOf(sound, RATE, at, at + 0.2));
      for (const at of [1.5, 2, 2.5, 2.9]) expect(Math.abs(level(at) - level(1))).toBeLessThan(1);
      expect(level(1) - level(5)).toBeGreaterThan(8);
    }
    const still = heard([note(59, { falls: 12, duration: 6 })], { rig: DRY, pedalStays: true });
    expect(dbOf(rmsOf(still, RATE, 0, 0.2) / rmsOf(still, RATE, 2.9, 3.1))).toBeGreaterThan(17);
  });

  it('come back to rest before what is played next, so that its stroke is no louder', () => {
    const instrument = new PlayedInstrument(RATE);
    const play = (from: number): number => {
      const actions = actionsOf([note(59)], { referenceHz: 440, rig: DRY });
      instrument.play(actions, from);
      const left = new Float32Array(4.8 * RATE);
      instrument.process(left, new Float32Array(left.length), from);
      return peakOf(left.subarray(0, 0.3 * RATE));
    };
    const [first, next] = [play(0), play(4.8)];
    expect(dbOf(next / first)).toBeCloseTo(0, 1);
  });

  it('let a soft bass stay under the strings', () => {
    const [bass] = notesOf([{ string: 0, midi: 40 }], 'together').map((each) => ({
      ...each,
      level: 0.5,
    }));
    if (bass === undefined) throw new Error('no bass');
    const over = dbOf(rmsOf(heard([note(64)]), RATE, 0, 1) / rmsOf(heard([bass]), RATE, 0, 1));
    expect(over).toBeGreaterThan(3);
    expect(over).toBeLessThan(12);
  });
});

describe('a plain tone', () => {
  it('is nearly a sine, and hardly fades', () => {
    const sound = heard([note(64)], { rig: { ...DRY, timbre: 'plain' } });
    expect(brightness(sound, RATE, wanted(64), 0.5)).toBeLessThan(1.3);
    expect(dbOf(rmsOf(sound, RATE, 0.3, 0.5) / rmsOf(sound, RATE, 2.3, 2.5))).toBeLessThan(12);
  });

  it('is as loud as a string, within 6 dB', () => {
    for (const midi of [40, 64, 76]) {
      const level = (timbre: 'string' | 'plain'): number =>
        dbOf(rmsOf(heard([note(midi)], { rig: { ...RIG, timbre } }), RATE, 0, 1));
      expect(Math.abs(level('plain') - level('string'))).toBeLessThan(6);
    }
  });
});
