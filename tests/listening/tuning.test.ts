/**
 * What is heard is in tune to half a cent: measured by an independent detector (pitchy) on sound that
 * Chromium's audio thread rendered offline. Wanted pitches come from ISO 16 and from plain ratios.
 */
import { describe, expect, it } from 'vitest';
import { readSetup } from '$lib/setup/readSetup';
import { heardPitches } from '$lib/tuning/heard';
import { RIG, type Timbre } from '$lib/rendering/actions';
import { notesOf, type ScheduledNote } from '$lib/playing/schedule';
import { renderNotes } from '$lib/rendering/renderSound';
import { LONG } from '../seed';
import { beatsNear, centsBetween, hzAt, wanted } from './ear';
import { RATE, render } from './render';

// B1 (35), the lowest string of a universal twelve, to E6 (88); whole in `check:long`, else both ends and every third
const RANGE = Array.from({ length: 54 }, (_, place) => 35 + place).filter(
  (midi) => LONG || midi === 88 || midi % 3 === 2,
);
const HALF_A_CENT = 0.5;
/** Without the room, in which the pitch before a bend is still to be heard after it. */
const DRY = { ...RIG, room: 0 };

const off = (sound: Float32Array, seconds: number, hz: number, rate = RATE): number =>
  Math.abs(centsBetween(hzAt(sound, rate, seconds), hz));

/** A note that is bent once, 0.45 s after it is struck, within 90 ms. */
const bent = (from: number, to: number): ScheduledNote[] => [
  { string: 1, midi: from, at: 0, duration: 2, glides: [{ at: 0.45, over: 0.09, to }] },
];

describe.each(['string', 'plain'] as const)('the %s', (timbre: Timbre) => {
  const expression = { referenceHz: 440, rig: { ...DRY, timbre } };

  it.each(RANGE)('is in equal temperament at both ends of a bend from MIDI %i', async (midi) => {
    const to = midi >= 87 ? midi - 2 : midi + 2;
    const sound = await render(bent(midi, to), 0.9, expression);
    expect(off(sound, 0.2, wanted(midi))).toBeLessThan(HALF_A_CENT);
    expect(off(sound, 0.6, wanted(to))).toBeLessThan(HALF_A_CENT);
  });
});

it('is as exact with the room around it, once the room has followed', async () => {
  for (const midi of [35, 47, 59, 71, 83]) {
    const sound = await render(bent(midi, midi + 2), 1.6);
    expect(off(sound, 0.25, wanted(midi))).toBeLessThan(HALF_A_CENT);
    expect(off(sound, 1.3, wanted(midi + 2))).toBeLessThan(HALF_A_CENT);
  }
});

describe('other references', () => {
  it.each([415, 432, 442, 466])('are followed: A4 = %i Hz', async (a4) => {
    const sound = await render(bent(64, 66), 0.9, { referenceHz: a4, rig: DRY });
    expect(off(sound, 0.2, wanted(64, a4))).toBeLessThan(HALF_A_CENT);
    expect(off(sound, 0.6, wanted(66, a4))).toBeLessThan(HALF_A_CENT);
  });

  it('and another sampling rate changes nothing', async () => {
    for (const rate of [44_100, 96_000]) {
      const sound = await render(bent(47, 49), 1.1, { referenceHz: 440, rig: DRY }, rate);
      expect(off(sound, 0.2, wanted(47), rate)).toBeLessThan(HALF_A_CENT);
      expect(off(sound, 0.6, wanted(49), rate)).toBeLessThan(HALF_A_CENT);
    }
  });
});

/** Two strings; the third of an A chord low, the fifth's pedal high; a split on string 2. */
const TUNED = readSetup({
  format: 1,
  name: 'Tuned by ear',
  frets: 24,
  scaleLengthMm: 610,
  referenceHz: 442,
  reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
  necks: [
    {
      name: 'Two',
      strings: [
        { open: 'C#4', cents: -13.7 },
        { open: 'B3', cents: 2 },
      ],
    },
  ],
  controls: [
    {
      id: 'A',
      station: 'P1',
      pulls: [
        { string: 1, semitones: 1, cents: 15.6 },
        { string: 2, semitones: 2, cents: -9.5 },
      ],
    },
    { id: 'V', station: 'LKV', pulls: [{ string: 2, semitones: -1, cents: 6 }] },
  ],
});

describe('a setup with tuning targets', () => {
  // targets in cents from equal temperament, by hand: string 1 open −13.7, with A +15.6; string 2 open
  // +2, with A −9.5, with A and V squares of frequencies add up: 600·log₂(2^(190.5/600) + 2^(−94/600) −
  // 2^(2/600)) − 100 = 14.142
  it.each([
    [1, 0, '', 61, -13.7],
    [1, 5, '', 66, -13.7],
    [1, 5, 'A', 67, 15.6],
    [2, 0, '', 59, 2],
    [2, 12, 'A', 73, -9.5],
    [2, 3, 'V', 61, 6],
    [2, 3, 'A V', 63, 14.142],
  ])('is heard so: string %i at fret %i with “%s”', async (string, fret, ids, midi, cents) => {
    if (!TUNED.ok) throw new Error('the setup is refused');
    const setup = TUNED.value;
    const engaged = ids
      .split(' ')
      .filter((id) => id !== '')
      .map((id) => ({ id, state: 'full' as const }));
    const hands = { neck: 1, fret, slant: 0, strings: [string] };
    const [before] = heardPitches(setup, { ...hands, engaged: [] });
    const [after] = heardPitches(setup, { ...hands, engaged });
    if (before === undefined || after === undefined) throw new Error('one string');
    const sound = await render(bent(before.midi, after.midi), 0.9, {
      referenceHz: setup.referenceHz,
      rig: DRY,
    });
    const hz = wanted(midi, 442) * 2 ** (cents / 1200);
    expect(off(sound, 0.62, hz)).toBeLessThan(HALF_A_CENT);
  });
});

describe('just intonation', () => {
  // a C chord with every kind of tone over its root; ratios of five-limit just intonation
  it.each([
    [72, 1, 1],
    [76, 5, 4],
    [75, 6, 5],
    [79, 3, 2],
    [81, 5, 3],
    [82, 16, 9],
    [74, 9, 8],
    [77, 4, 3],
  ])('has MIDI %i at %i/%i over C', async (midi, over, under) => {
    const setup = TUNED.ok ? TUNED.value : undefined;
    if (setup === undefined) throw new Error('the setup is refused');
    const fret = midi - 61;
    const [pitch] = heardPitches(
      setup,
      { neck: 1, fret, slant: 0, strings: [1], engaged: [] },
      'just',
      0,
    );
    if (pitch === undefined) throw new Error('nothing sounds');
    const sound = await render(notesOf([pitch], 'together'), 0.5);
    expect(off(sound, 0.2, (wanted(72) * over) / under)).toBeLessThan(HALF_A_CENT);
  });
});

describe('beats of two strings', () => {
  // the piano tuner's figures for A4 = 440 Hz: beats a second of the first partials that nearly meet
  const PAIRS = [
    ['F3 and A3', 53, 57, 4, 6.929],
    ['C4 and E4', 60, 64, 4, 10.382],
    ['A3 and C♯4', 57, 61, 4, 8.731],
    ['A3 and E4', 57, 64, 2, 0.745],
  ] as const;

  it.each(PAIRS)('%s', async (_pair, low, high, partial, beats) => {
    const notes = notesOf(
      [
        { string: 5, midi: low },
        { string: 4, midi: high },
      ],
      'together',
    ).map((note) => ({ ...note, duration: 7 }));
    for (const timbre of ['string', 'plain'] as const) {
      const rig = { ...DRY, timbre };
      const sound = await render(notes, 7, { referenceHz: 440, rig });
      const heard = beatsNear(sound, RATE, partial * wanted(high), 0.3, 6.5);
      expect(heard.perSecond, timbre).toBeCloseTo(beats, 1);
    }
  });

  it('are none where the third is pure', async () => {
    const third = 60 + 12 * Math.log2(5 / 4);
    const notes = notesOf(
      [
        { string: 5, midi: 60 },
        { string: 4, midi: third },
      ],
      'together',
    ).map((note) => ({ ...note, duration: 7 }));
    const depth = async (midi: number): Promise<number> => {
      const rig = { ...DRY, timbre: 'plain' as const };
      const played = notes.map((note) => (note.midi === third ? { ...note, midi } : note));
      const sound = await render(played, 7, { referenceHz: 440, rig });
      return beatsNear(sound, RATE, 5 * wanted(60), 0.3, 6.5).depth;
    };
    expect(await depth(third)).toBeLessThan(0.1 * (await depth(64)));
  });
});

it('the audio thread and the renderer of files give the same sound', async () => {
  const notes = bent(64, 66);
  const expression = { referenceHz: 440, vibrato: true, swell: true };
  const heard = await render(notes, 2, expression);
  const { left } = renderNotes(notes, { ...expression, sampleRate: RATE });
  let most = 0;
  heard.forEach((sample, i) => (most = Math.max(most, Math.abs(sample - (left[i] ?? 0)))));
  expect(most).toBeLessThan(1e-4);
});
