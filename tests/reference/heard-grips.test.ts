/** Grips of recorded instruments, heard: mixes whose pitches were measured on each note alone. */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readWav } from '$lib/formats/read/wav';
import { notesOf } from '$lib/playing/schedule';
import { renderNotes } from '$lib/rendering/renderSound';
import { RIG } from '$lib/rendering/actions';
import { battery } from '../battery';
import { planMix, recordedMixes, withNoise } from '../heardMixes';
import { presentOf, scoresOf, tableOf, within, type KnownGrip, type Scores } from '../heardTable';
import { HAS_NOTES, INSTRUMENTS, NOTE_RATE, type Instrument } from '../recordedNotes';
import { LONG } from '../seed';

const SOUNDS = '../shared/checks/sounds/';
const there = existsSync(`${SOUNDS}sounds.json`);
if (!there) console.log(`skipped: ${SOUNDS} is absent`);
if (!HAS_NOTES) console.log('skipped: recorded notes (fluidsynth, fluid-soundfont-gm) are absent');

/** What is wanted from a quarter of a second, and from 1.2 s: cents, cents for 95 of 100. */
const GOALS = [
  [0.25, 0.8, 2.5],
  [1.2, 0.2, 1.0],
] as const;

const table = (title: string, scores: Scores): void => {
  if (LONG) console.log(tableOf(title, scores));
};

interface Check {
  readonly file: string;
  readonly instrument: string;
  readonly strings: readonly { readonly midi: number; readonly cents?: number }[];
  readonly extra?: { readonly midi: number };
  readonly noiseDb?: number;
}

const noiseKind = (db: number | undefined): string =>
  db === undefined ? 'no noise' : `noise ${Math.abs(db)} dB below`;

describe.skipIf(!there)('recorded grips', () => {
  const grips = (): KnownGrip[] => {
    const { sounds } = JSON.parse(readFileSync(`${SOUNDS}sounds.json`, 'utf8')) as {
      readonly sounds: readonly Check[];
    };
    return sounds.map(({ file, instrument, strings, extra, noiseDb }): KnownGrip => {
      const read = readWav(readFileSync(SOUNDS + file));
      if (!read.ok) throw new Error(read.error.found);
      return {
        ...read.value,
        kinds: [instrument, `${strings.length} strings`, noiseKind(noiseDb)],
        wanted: strings.map(({ midi }) => midi),
        cents: strings.map(({ cents }) => cents),
        foreign: extra?.midi,
      };
    });
  };

  it.each(GOALS)('from %f s half lie within %f cents and 95 of 100 within %f', (s, half, most) => {
    const scores = scoresOf(grips(), s);
    table(`checks, ${s} s`, scores);
    expect(within(scores.apart, 0.5)).toBeLessThanOrEqual(half);
    expect(within(scores.apart, 0.95)).toBeLessThanOrEqual(most);
    expect(scores.apart.right / scores.apart.asked).toBeGreaterThanOrEqual(0.98);
    expect(scores.foreign).toEqual({ told: 4, of: 4, wrong: 0, without: 20 });
  });
});

/**
 * A recorded note falls for half a second and more after its stroke, a nylon string by three cents. What is told after
 * a quarter of a second is held against the pitch that the note alone has from then on, moment by moment; the table says
 * beside it what one long window makes of that (`pitchByMoments`), by which what is told later is judged.
 */
describe.skipIf(!HAS_NOTES)('mixes of recorded notes', () => {
  const instruments = Object.keys(INSTRUMENTS).filter(
    (each) => LONG || each === 'steel guitar' || each === 'nylon guitar',
  ) as Instrument[];

  battery('are heard as exactly', { slice: 4, whole: 60 }, ({ count, random }) => {
    const mixes = instruments.flatMap((instrument) => {
      const plans = Array.from({ length: count }, (_, index) =>
        planMix(random, 2 + (index % 4), [undefined, 40, 30][Math.floor(index / 4) % 3]),
      );
      return recordedMixes(instrument, plans, random).map((mix) => ({ instrument, ...mix }));
    });
    const gripsBy = (truth: 'cents' | 'byMoments'): KnownGrip[] =>
      mixes.map(({ instrument, plan, samples, [truth]: cents }) => ({
        kinds: [instrument, `${plan.wanted.length} strings`, noiseKind(plan.noiseDb)],
        samples,
        sampleRate: NOTE_RATE,
        wanted: plan.wanted,
        cents,
        foreign: plan.foreign,
      }));
    for (const [seconds, half, most] of GOALS) {
      const byLong = scoresOf(gripsBy('cents'), seconds);
      const byMoments = scoresOf(gripsBy('byMoments'), seconds);
      table(`recorded notes, ${seconds} s, by moments from a quarter of a second on`, byMoments);
      table(`recorded notes, ${seconds} s, by one long window from there on`, byLong);
      const scores = seconds < 1 ? byMoments : byLong;
      // of a slice one string in twenty would be five of a hundred
      if (LONG) expect(presentOf(scores)).toBeGreaterThanOrEqual(0.98);
      expect(within(scores.apart, 0.5)).toBeLessThanOrEqual(half);
      expect(within(scores.apart, 0.95)).toBeLessThanOrEqual(most);
      expect(scores.apart.right / scores.apart.asked).toBeGreaterThanOrEqual(0.98);
      // steel falls less, and is held to both
      const steel = scoresOf(
        gripsBy('cents').filter(({ kinds }) => kinds[0] !== 'nylon guitar'),
        seconds,
      );
      table(`recorded notes without nylon, ${seconds} s, by one long window`, steel);
      expect(within(steel.apart, 0.5)).toBeLessThanOrEqual(half);
      expect(within(steel.apart, 0.95)).toBeLessThanOrEqual(most);
    }
  });
});

/** What is told is where the string has come to by then, so it is held against that moment of the note alone. */
describe.skipIf(!HAS_NOTES)('a nylon string a quarter of a second after its stroke', () => {
  battery('is heard as it is then', { slice: 4, whole: 60 }, ({ count, random }) => {
    const plans = Array.from({ length: count }, (_, index) => planMix(random, 2 + (index % 4)));
    const grips = recordedMixes('nylon guitar', plans, random, [0.165, 0.285]).map(
      ({ plan, samples, cents }): KnownGrip => ({
        kinds: [`${plan.wanted.length} strings`],
        samples,
        sampleRate: NOTE_RATE,
        wanted: plan.wanted,
        cents,
        foreign: plan.foreign,
      }),
    );
    const scores = scoresOf(grips, 0.25);
    table('nylon by its own pitch at 0.225 s, 0.25 s', scores);
    expect(within(scores.apart, 0.5)).toBeLessThanOrEqual(0.8);
    expect(scores.apart.right / scores.apart.asked).toBeGreaterThanOrEqual(0.98);
  });
});

describe('our own instrument with noise and room', () => {
  battery('is heard as exactly', { slice: 8, whole: 120 }, ({ count, random }) => {
    const grips = Array.from({ length: count }, (_, index): KnownGrip => {
      const noiseDb = [undefined, 40, 30][index % 3];
      const plan = planMix(random, 2 + (index % 4), noiseDb);
      const strings = plan.wanted.flatMap((midi, at) =>
        plan.played[at] ? [{ string: at + 1, midi: midi + (plan.off[at] ?? 0) / 100 }] : [],
      );
      const room = [0, 0.35, 0.7][Math.floor(index / 4) % 3] as number;
      const { left, right, sampleRate } = renderNotes(
        notesOf(strings, 'together').map((note) => ({ ...note, duration: 1.5 })),
        { referenceHz: 440, tail: 0, rig: { ...RIG, room } },
      );
      const heard = left.map((each, i) => (each + (right[i] ?? 0)) / 2);
      return {
        kinds: [`${plan.wanted.length} strings`, noiseKind(noiseDb), `room ${room}`],
        samples: withNoise(heard, noiseDb, random),
        sampleRate,
        wanted: plan.wanted,
        cents: plan.off.map((off, at) => (plan.played[at] ? off : undefined)),
      };
    });
    for (const [seconds, half, most] of GOALS) {
      const scores = scoresOf(grips, seconds);
      table(`our own instrument, ${seconds} s`, scores);
      expect(within(scores.apart, 0.5)).toBeLessThanOrEqual(half);
      expect(within(scores.apart, 0.95)).toBeLessThanOrEqual(most);
      expect(scores.apart.right / scores.apart.asked).toBeGreaterThanOrEqual(0.98);
    }
  });
});

describe('our own instrument with a rhythm section behind it', () => {
  /** Bass on each beat, a drum and hiss on every other, made of sines and noise: 120 beats a minute. */
  function rhythm(samples: number, rate: number, root: number, random: () => number): Float32Array {
    const out = new Float32Array(samples);
    const beat = rate / 2;
    for (let at = 0; at < samples; at++) {
      const [number, t] = [Math.floor(at / beat), (at % beat) / rate];
      const bassHz = 440 * 2 ** ((root + (number % 2 === 0 ? 0 : 7) - 69) / 12);
      const bass = [1, 2, 3].reduce(
        (sum, n) => sum + (Math.sin(2 * Math.PI * bassHz * n * t) / n ** 2) * Math.exp(-3 * t),
        0,
      );
      const drum =
        number % 2 === 0
          ? Math.sin(2 * Math.PI * (50 * t + (60 / 30) * (1 - Math.exp(-30 * t)))) *
            Math.exp(-12 * t)
          : 0;
      const hiss = (2 * random() - 1) * Math.exp(-40 * ((at % (beat / 2)) / rate));
      out[at] = 0.5 * bass + 0.6 * drum + 0.15 * hiss;
    }
    return out;
  }

  battery('is heard as exactly, 15 dB above it', { slice: 6, whole: 90 }, ({ count, random }) => {
    const grips = Array.from({ length: count }, (_, index): KnownGrip => {
      const plan = planMix(random, 2 + (index % 4));
      const strings = plan.wanted.flatMap((midi, at) =>
        plan.played[at] ? [{ string: at + 1, midi: midi + (plan.off[at] ?? 0) / 100 }] : [],
      );
      const { left, sampleRate } = renderNotes(
        notesOf(strings, 'together').map((note) => ({ ...note, duration: 1.5 })),
        { referenceHz: 440, tail: 0 },
      );
      const band = rhythm(left.length, sampleRate, 36 + (index % 8), random);
      const power = (samples: Float32Array): number =>
        samples.reduce((sum, each) => sum + each * each, 0);
      const size = Math.sqrt(power(left) / power(band)) * 10 ** (-15 / 20);
      return {
        kinds: [`${plan.wanted.length} strings`],
        samples: left.map((each, i) => each + size * (band[i] ?? 0)),
        band: [36 + (index % 8), 43 + (index % 8)],
        sampleRate,
        wanted: plan.wanted,
        cents: plan.off.map((off, at) => (plan.played[at] ? off : undefined)),
      };
    });
    for (const [seconds, half, most] of GOALS) {
      const scores = scoresOf(grips, seconds);
      table(`with a rhythm section, ${seconds} s`, scores);
      expect(scores.foreign.wrong).toBeLessThanOrEqual(0.02 * scores.foreign.without);
      expect(within(scores.apart, 0.5)).toBeLessThanOrEqual(half);
      expect(within(scores.apart, 0.95)).toBeLessThanOrEqual(most);
      expect(scores.apart.right / scores.apart.asked).toBeGreaterThanOrEqual(0.98);
    }
  });
});
