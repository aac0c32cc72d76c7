/** The voice in a real audio context: it starts when asked, stops when asked, and grows nothing. */
import { afterEach, expect, it, vi } from 'vitest';
import { notesOf } from '$lib/sound/schedule';
import { createVoice, type Voice } from '$lib/sound/voice';

const GRIP = notesOf(
  [
    { string: 3, midi: 76 },
    { string: 4, midi: 72 },
    { string: 5, midi: 67 },
  ],
  'together',
);

let voice: Voice | undefined;
afterEach(() => {
  voice?.dispose();
});

it('plays, tells which strings sound, and stops', async () => {
  voice = createVoice();
  const told: number[][] = [];
  voice.onsounding = (strings) => {
    told.push([...strings].sort());
  };
  expect(await voice.play(GRIP, { referenceHz: 440 })).toEqual({ ok: true, value: undefined });
  await vi.waitFor(() => {
    expect(told.at(-1)).toEqual([3, 4, 5]);
  });
  voice.stop();
  expect(told.at(-1)).toEqual([]);
});

it('makes no more audio nodes the hundredth time than the first', async () => {
  voice = createVoice();
  await voice.play(GRIP, { referenceHz: 440 });
  let made = 0;
  const gains = vi.spyOn(BaseAudioContext.prototype, 'createGain').mockImplementation(function (
    this: BaseAudioContext,
  ) {
    made++;
    return new GainNode(this);
  });
  for (let time = 0; time < 100; time++) {
    await voice.play(GRIP, { referenceHz: 440 });
    voice.stop();
  }
  gains.mockRestore();
  expect(made).toBe(0);
});

it('says in words when there is no sound to be had', async () => {
  voice = createVoice();
  const resume = vi
    .spyOn(AudioContext.prototype, 'resume')
    .mockRejectedValue(new Error('no device'));
  const tone = await import('tone');
  const start = vi.spyOn(tone.getContext(), 'resume').mockRejectedValue(new Error('no device'));
  const played = await voice.play(GRIP, { referenceHz: 440 });
  start.mockRestore();
  resume.mockRestore();
  expect(played.ok ? '' : played.error).toContain('no sound here: no device');
});
