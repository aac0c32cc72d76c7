/**
 * The rhythm section as it sounds in a file: in its place against the strings, and behind them. The places are
 * those of a metronome, beat by beat; where a sound begins is where it first passes a twentieth of its height.
 */
import { expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { pieceOf } from '$lib/arrange/pieceOf';
import { readProgression } from '$lib/arrange/readText';
import { readWishes } from '$lib/answers/readWishes';
import { bandOf } from '$lib/playing/band/band';
import { FEEL_NAMES } from '$lib/playing/band/feels';
import { heardNotes } from '$lib/playing/performance';
import { actionsOf } from '$lib/rendering/actions';
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import { renderBand } from '$lib/rendering/renderBand';
import { renderNotes } from '$lib/rendering/renderSound';
import { builtIn } from '$lib/setup/builtIns';
import { battery } from '../../battery';
import { loudnessOf } from '../../loudness';

const RATE = 48_000;

/** Where the sound of each of some moments begins, in seconds; `wave` gives the samples of a stretch. */
function begins(at: number, wave: (from: number, until: number) => Float32Array): number {
  const from = Math.round((at - 0.01) * RATE);
  const window = wave(from, from + 0.05 * RATE);
  const height = window.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  return (from + window.findIndex((sample) => Math.abs(sample) > height / 20)) / RATE;
}

/** Reads a sound in order, while an instrument renders it a tenth of a second at a time. */
function reading(instrument: PlayedInstrument, beside?: Float32Array) {
  const block = RATE / 10;
  let kept = new Float32Array(0);
  let [keptFrom, rendered] = [0, 0];
  return (from: number, until: number): Float32Array => {
    while (rendered < until) {
      const [left, right] = [new Float32Array(block), new Float32Array(block)];
      const own = beside?.subarray(rendered, rendered + block);
      instrument.process(left, right, rendered / RATE, own && [own]);
      const before = kept.subarray(Math.max(0, kept.length - 2 * block));
      const joined = new Float32Array(before.length + block);
      joined.set(before);
      joined.set(left, before.length);
      [kept, rendered] = [joined, rendered + block];
      keptFrom = rendered - joined.length;
    }
    return kept.slice(from - keptFrom, until - keptFrom);
  };
}

// 1,400 beats at 137 a minute are ten minutes and more
battery(
  'clicks lie within a millisecond of the strings that are struck with them, for ten minutes',
  { slice: 12, whole: 1400 },
  ({ count }) => {
    const tempo = 137;
    const text = `tempo: ${tempo}\n${'N.C. | '.repeat(count / 4)}N.C.`;
    const { piece, progression } = readProgression(text);
    const band = bandOf({ piece: piece ?? pieceOf(progression) }).notes;
    const notes = Array.from({ length: count }, (_, beat) => ({
      ...{ string: 3 + (beat % 4), midi: 60 + (beat % 13) },
      ...{ at: ((beat + 1) * 60) / tempo, duration: 0.2 },
    }));
    const strings = new PlayedInstrument(RATE);
    strings.play(actionsOf(notes, { referenceHz: 440, pedalStays: true }));
    const samples = Math.ceil((count + 4) * (60 / tempo)) * RATE;
    const clicks = renderBand(band, { referenceHz: 440, sampleRate: RATE, samples });
    const struck = reading(strings);
    const clicked = reading(new PlayedInstrument(RATE), clicks);
    for (const { at } of notes) {
      const apart = begins(at, clicked) - begins(at, struck);
      expect(Math.abs(apart), `at ${at.toFixed(3)} s`).toBeLessThan(0.001);
    }
  },
);

const loudness = (sound: Float32Array): number =>
  10 * Math.log10(sound.reduce((sum, sample) => sum + sample * sample, 0) / sound.length);

battery(
  'the band lies below the strings by what lets them lead: about six to nine decibels',
  { slice: 2, whole: FEEL_NAMES.length },
  ({ of }) => {
    const E9 = builtIn('e9');
    const { progression } = readProgression('tempo: 110\nC | F');
    const wishes = readWishes(E9, {});
    const [way] = wishes.ok ? arrange(E9, progression, wishes.value, 1).ways : [];
    if (way === undefined) throw new Error('it cannot be played');
    const strings = renderNotes(heardNotes({ setup: E9, progression, way }), { referenceHz: 440 });
    const samples = strings.left.length;
    // a line: a note on each second beat
    const melody = [64, 67, 69, 71].map((midi, at) => ({
      ...{ string: 4, midi, at: (at * 120) / 110, duration: 1 },
    }));
    const line = loudnessOf(renderNotes(melody, { referenceHz: 440 }).left);
    for (const feel of of(FEEL_NAMES)) {
      const notes = bandOf({ piece: pieceOf(progression), feel }).notes.filter(
        ({ part }) => part !== 'click',
      );
      const band = renderBand(notes, { referenceHz: 440, sampleRate: RATE, samples });
      const below = loudness(strings.left) - loudness(band);
      // a waltz in four has a third of the strokes
      expect(below, feel).toBeGreaterThan(5);
      expect(below, feel).toBeLessThan(feel === 'waltz' ? 13 : 10);
      // what comps is heard under a line, and does not cover it
      const comped = notes.filter(({ part }) => part === 'chords');
      const under =
        line - loudnessOf(renderBand(comped, { referenceHz: 440, sampleRate: RATE, samples }));
      expect(under, feel).toBeGreaterThan(9);
      expect(under, feel).toBeLessThan(12);
    }
  },
);

it('a file with a band keeps below the ceiling of the limiter, −1 dBFS', () => {
  const notes = [{ string: 4, midi: 64, at: 0.5, duration: 1 }];
  const band = bandOf({
    piece: pieceOf(readProgression('tempo: 240\nC').progression),
    feel: 'swing',
  });
  const loud = band.notes.map((note) => ({ ...note, level: 20 }));
  const { left } = renderNotes(notes, { referenceHz: 440, band: loud });
  expect(left.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)).toBeLessThan(0.892);
});
