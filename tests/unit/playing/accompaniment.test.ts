/** What drones, how a passage becomes quicker, and what is remembered of an accompaniment. */
import { afterEach, expect, it, vi } from 'vitest';
import { pieceOf } from '$lib/arrange/pieceOf';
import { readProgression } from '$lib/arrange/readText';
import type { BandNote } from '$lib/playing/band/band';
import { droneOf } from '$lib/playing/band/drone';
import { playable, tempoAt } from '$lib/playing/band/speedSteps';
import { createVoice } from '$lib/sound/voice';
import { AlongPlayer } from '$lib/ui/band/alongPlayer.svelte';
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
    transposed: 40,
    stepBy: 4,
    stepEvery: 0,
  });
  expect(odd.feel).toBe('none');
  expect(odd.sliders.drums).toBe(USUAL.sliders.drums);
  expect(odd.sliders.bass).toBe(0.2);
  expect(odd.muted.chords).toBe(true);
  expect(odd.transposed).toBe(0);
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

// two measures of C at 120 quarter notes a minute, of which the band has the first twice as fast, after a count of 1 s
it('a file has the band as it is heard: its feel, its key, its levels, its place, and no click', async () => {
  const { piece, progression } = readProgression('tempo: 120\nC | C');
  const once = {
    ...{ notes: [], due: [], length: 2, piece: piece ?? pieceOf(progression) },
    part: [0, 1] as const,
  };
  const player = new AlongPlayer(createVoice());
  expect(await player.bandFor(once, 2, 1)).toEqual([]);
  const choices = await player.chosen();
  choices.choose({ feel: 'two-beat', transposed: 2 });
  choices.mute('click', false);
  choices.mute('drums', true);
  choices.setSlider('bass', 0.35);
  const notes = await player.bandFor(once, 2, 1);
  expect(new Set(notes.map(({ part }) => part))).toEqual(new Set(['bass', 'chords']));
  const of = (part: string): BandNote[] => notes.filter((note) => note.part === part);
  // root and fifth on the first and third of four beats of a quarter of a second; D and A
  expect(of('bass').map(({ at }) => at)).toEqual([1, 1.5]);
  expect(of('bass').map((note) => 'midi' in note && note.midi % 12)).toEqual([2, 9]);
  // half of 0.7, by the square: a quarter of the same with its slider where it stands at first
  const quiet = of('bass')[0]?.level ?? 0;
  choices.setSlider('bass', 0.7);
  expect((await player.bandFor(once, 2, 1)).find(({ part }) => part === 'bass')?.level).toBeCloseTo(
    4 * quiet,
    6,
  );
});
