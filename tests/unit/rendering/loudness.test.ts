/** Nothing that can be played is ever louder than it may be, or too faint to be heard. */
import { expect, it } from 'vitest';
import { RIG, type Timbre } from '$lib/rendering/actions';
import { renderNotes } from '$lib/rendering/renderSound';
import { MANNERS, notesOf } from '$lib/playing/schedule';
import { Limiter } from '$lib/rendering/dsp/limiter';
import { battery } from '../../battery';
import { chance, dbOf, peakOf, rmsOf, truePeakOf } from '../../listening/ear';

const RATE = 48_000;

const NAME = 'random chords stay below −1 dBFS between the samples too, and well above silence';

battery(NAME, { slice: 100, whole: 1000 }, (cases) => {
  const random = (below: number): number => Math.floor(cases.random() * below);
  let loudest = 0;
  let softest = Infinity;
  for (let chord = 0; chord < cases.count; chord++) {
    const size = chord % 50 === 0 ? 14 : 3 + random(4);
    const grip = Array.from({ length: size }, (_, place) => ({
      string: place + 1,
      midi: 35 + random(54),
    }));
    const timbre: Timbre = chord % 10 === 9 ? 'plain' : 'string';
    const manner = chord % 3 === 0 ? MANNERS[1] : MANNERS[0];
    const notes = notesOf(grip, manner).map((note) => ({ ...note, duration: 0.3 }));
    const { left, right } = renderNotes(notes, {
      referenceHz: 440,
      sampleRate: RATE,
      rig: { timbre, amplifier: chord % 4 === 1, room: 1 },
      tail: 0,
    });
    loudest = Math.max(loudest, truePeakOf(left), truePeakOf(right));
    softest = Math.min(softest, rmsOf(left, RATE, 0.1, 0.25));
  }
  console.log(
    `loudest true peak ${dbOf(loudest).toFixed(2)} dBFS, softest chord ${dbOf(softest).toFixed(1)} dBFS`,
  );
  expect(dbOf(loudest)).toBeLessThan(-1);
  expect(dbOf(softest)).toBeGreaterThan(-40);
});

it('fourteen strings on one pitch, struck in step, stay below it too', () => {
  for (const midi of [35, 47, 59, 71, 88]) {
    const grip = Array.from({ length: 14 }, (_, place) => ({ string: place + 1, midi }));
    const { left } = renderNotes(notesOf(grip, 'together'), { referenceHz: 440, tail: 0 });
    expect(dbOf(truePeakOf(left)), `MIDI ${midi}`).toBeLessThan(-1);
  }
});

it('six strings are left as they are by the limiter but for the very stroke', () => {
  const grip = [40, 47, 52, 56, 59, 64].map((midi, place) => ({ string: 6 - place, midi }));
  // the pedal rests: under a foot it would follow each string alone in another way
  const how = { referenceHz: 440, rig: { ...RIG, room: 0 }, pedalStays: true };
  const one = renderNotes(notesOf(grip, 'rolled'), how);
  // the sum of the strings alone, each far from the ceiling
  const alone = grip.map(
    (pitch) =>
      renderNotes(
        notesOf(grip, 'rolled').filter(({ string }) => string === pitch.string),
        how,
      ).left,
  );
  const sum = one.left.map((_, i) => alone.reduce((all, each) => all + (each[i] ?? 0), 0));
  const ratio = rmsOf(one.left, RATE, 1, 2) / rmsOf(Float32Array.from(sum), RATE, 1, 2);
  expect(Math.abs(dbOf(ratio))).toBeLessThan(0.1);
});

it('the limiter holds its ceiling against any input, and lets the quiet through unchanged', () => {
  const random = chance(7);
  const limiter = new Limiter(RATE);
  const left = Float32Array.from({ length: RATE }, () => (random(2001) / 1000 - 1) * 8);
  const right = left.map((sample) => -sample / 2);
  limiter.process(left, right, RATE);
  expect(dbOf(peakOf(left))).toBeLessThanOrEqual(-1.99);

  const calm = new Limiter(RATE);
  const tone = Float32Array.from({ length: 4800 }, (_, i) => 0.5 * Math.sin(i / 7));
  const through = Float32Array.from(tone);
  calm.process(through, new Float32Array(4800), 4800);
  const { delay } = calm;
  expect(through.subarray(delay)).toEqual(tone.subarray(0, 4800 - delay));
});
