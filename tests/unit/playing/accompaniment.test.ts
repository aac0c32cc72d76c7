/** What drones, how a passage becomes quicker, and what is remembered of an accompaniment. */
import { afterEach, expect, it, vi } from 'vitest';
import { droneOf } from '$lib/playing/band/drone';
import { playable, tempoAt } from '$lib/playing/band/speedSteps';
import { BandChoices, USUAL, accompanimentFrom } from '$lib/ui/band/bandChoices.svelte';

afterEach(() => vi.unstubAllGlobals());

const drone = (text: string): readonly number[] | string => {
  const read = droneOf(text);
  return read.ok ? read.value : read.error;
};

// MIDI numbers by scientific pitch: C4 is 60, E2 is 40
it('a note drones with its octave, one with an octave alone, a chord with its bass lowest', () => {
  expect(drone('E')).toEqual([40, 52]);
  expect(drone('E2')).toEqual([40]);
  expect(drone('')).toEqual([]);
  const chord = drone('C/E');
  if (typeof chord === 'string') throw new Error(chord);
  expect(chord[0]).toBe(40);
  expect(new Set(chord.map((midi) => midi % 12))).toEqual(new Set([0, 4, 7]));
});

it('what is no drone is refused with a sentence', () => {
  expect(drone('C9')).toBe('A drone lies from C1 to C6; found “C9”.');
  expect(drone('Hmm')).toEqual(expect.any(String));
});

it('the tempo steps up after so many rounds, and stays within 30 and 300', () => {
  const steps = { by: 5, every: 2 };
  let tempo = 100;
  const heard = [0, 1, 2, 3, 4, 5].map((round) => (tempo = tempoAt(round, tempo, steps)));
  expect(heard).toEqual([100, 100, 105, 105, 110, 110]);
  expect(tempoAt(2, 299, steps)).toBe(300);
  expect(tempoAt(2, 31, { by: -5, every: 1 })).toBe(30);
  expect(tempoAt(8, 90, { by: 0, every: 1 })).toBe(90);
  expect([playable(7), playable(1000)]).toEqual([30, 300]);
});

it('what was kept is taken as far as it is something that can be chosen', () => {
  expect(accompanimentFrom({})).toEqual(USUAL);
  const odd = accompanimentFrom({
    feel: 'polka of tomorrow',
    'level drums': 7,
    'level bass': 0.2,
    'mute chords': true,
    drone: 'nonsense',
    stepBy: 4,
    stepEvery: 0,
  });
  expect(odd.feel).toBe('none');
  expect(odd.sliders.drums).toBe(USUAL.sliders.drums);
  expect(odd.sliders.bass).toBe(0.2);
  expect(odd.muted.chords).toBe(true);
  expect([odd.drone, odd.stepBy, odd.stepEvery]).toEqual(['', 4, USUAL.stepEvery]);
});

it('what is chosen is there again on the next visit, and a muted part is silent', () => {
  const kept = new Map<string, string>();
  vi.stubGlobal('localStorage', {
    getItem: (name: string) => kept.get(name) ?? null,
    setItem: (name: string, text: string) => kept.set(name, text),
  });
  const first = new BandChoices();
  first.choose({ feel: 'waltz', drone: 'Em' });
  first.setSlider('bass', 0.3);
  first.mute('drums', true);
  const next = new BandChoices();
  expect(next.choices).toEqual(first.choices);
  expect(next.levels).toMatchObject({ bass: 0.3, drums: 0, chords: USUAL.sliders.chords });
});
