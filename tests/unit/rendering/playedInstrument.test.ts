/** What the audio thread does with what it is told, and that it never piles anything up. */
import { describe, expect, it } from 'vitest';
import { actionsOf } from '$lib/rendering/actions';
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import { obey } from '$lib/sound/messages';
import { notesOf } from '$lib/playing/schedule';
import { centsBetween, hzAt, peakOf, rmsOf, wanted } from '../../listening/ear';

const RATE = 48_000;
const GRIP = [
  { string: 3, midi: 76 },
  { string: 4, midi: 72 },
  { string: 5, midi: 67 },
];

class Bench {
  readonly instrument = new PlayedInstrument(RATE);
  time = 0;

  /** The left channel of the next seconds. */
  hear(seconds: number): Float32Array {
    const samples = Math.round((seconds * RATE) / 128) * 128;
    const left = new Float32Array(samples);
    this.instrument.process(left, new Float32Array(samples), this.time);
    this.time += samples / RATE;
    return left;
  }

  play(notes: ReturnType<typeof notesOf>): void {
    const actions = actionsOf(notes, { referenceHz: 440 });
    obey(this.instrument, { say: 'play', actions, at: this.time }, this.time);
  }
}

const string = (midi: number) => notesOf([{ string: 1, midi }], 'together');

describe('the instrument', () => {
  it('bends what rings, from where it is', () => {
    const bench = new Bench();
    bench.play(string(64));
    bench.hear(0.5);
    const to = [{ string: 1, hz: wanted(66) }];
    obey(bench.instrument, { say: 'bend', to, over: 0.09, by: 'pull', hold: 0 }, bench.time);
    const after = bench.hear(1);
    expect(Math.abs(centsBetween(hzAt(after, RATE, 0.6), wanted(66)))).toBeLessThan(0.5);
  });

  it('lets what is bent ring on, so that the move is heard', () => {
    const bench = new Bench();
    bench.play(string(64).map((note) => ({ ...note, duration: 0.6 })));
    bench.hear(0.5);
    const to = [{ string: 1, hz: wanted(66) }];
    obey(bench.instrument, { say: 'bend', to, over: 0.09, by: 'pull', hold: 2 }, bench.time);
    bench.hear(1.9);
    expect(bench.instrument.ringing).toBe(true);
    bench.hear(0.2);
    expect(bench.instrument.ringing).toBe(false);
  });

  it('strikes at the new pitch what was to be struck later', () => {
    const bench = new Bench();
    bench.play(string(64).map((note) => ({ ...note, at: 0.5 })));
    bench.hear(0.2);
    const to = [{ string: 1, hz: wanted(66) }];
    obey(bench.instrument, { say: 'bend', to, over: 0.09, by: 'pull', hold: 0 }, bench.time);
    const after = bench.hear(1);
    expect(Math.abs(centsBetween(hzAt(after, RATE, 0.5), wanted(66)))).toBeLessThan(0.5);
  });

  it('forgets on a stop what was to come', () => {
    const bench = new Bench();
    bench.play(notesOf(GRIP, 'one by one'));
    bench.hear(0.2);
    obey(bench.instrument, { say: 'stop' }, bench.time);
    bench.hear(0.1);
    expect(bench.instrument.ringing).toBe(false);
    expect(bench.instrument.waiting).toBe(0);
    bench.hear(3);
    expect(peakOf(bench.hear(1))).toBe(0);
  });

  it('plays something else instead of what rings', () => {
    const bench = new Bench();
    bench.play(string(52));
    bench.hear(0.5);
    bench.play(string(64));
    const after = bench.hear(0.8);
    expect(Math.abs(centsBetween(hzAt(after, RATE, 0.5), wanted(64)))).toBeLessThan(1);
  });

  it('is exactly silent when nothing has been played, and once everything has died away', () => {
    const bench = new Bench();
    expect(peakOf(bench.hear(0.5))).toBe(0);
    bench.play(string(60));
    expect(rmsOf(bench.hear(1), RATE, 0, 1)).toBeGreaterThan(0.01);
    bench.hear(6);
    expect(peakOf(bench.hear(0.5))).toBe(0);
  });

  it('piles nothing up in ten thousand starts and stops', () => {
    const bench = new Bench();
    const left = new Float32Array(128);
    const right = new Float32Array(128);
    const block = (): void => {
      bench.instrument.process(left, right, bench.time);
      bench.time += 128 / RATE;
    };
    let most = 0;
    for (let time = 0; time < 10_000; time++) {
      bench.play(notesOf(GRIP, time % 2 === 0 ? 'rolled' : 'one by one'));
      block();
      most = Math.max(most, bench.instrument.waiting);
      if (time % 3 === 0) obey(bench.instrument, { say: 'stop' }, bench.time);
    }
    // what it was set up with, a stroke and a damping for each of three strings, and the pedal's way
    // through five seconds, four looks a second and two at every stroke and damping
    expect(most).toBeLessThanOrEqual(10 + 20 + 12);
    obey(bench.instrument, { say: 'stop' }, bench.time);
    bench.hear(0.1);
    expect(bench.instrument.ringing).toBe(false);
    expect(bench.instrument.waiting).toBe(0);
  });
});
