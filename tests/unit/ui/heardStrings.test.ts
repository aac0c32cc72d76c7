/** Open notes by playing: string by string before a microphone, and on a keyboard, with stand-ins for both. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Keyboard } from '$lib/midi/keyboard';
import { ok, refuse } from '$lib/result';
import type { Microphone } from '$lib/sound/microphone';
import { playedNote } from '$lib/setup/edits/start';
import { hzOf, parsePitch } from '$lib/theory/pitch';
import { NOTHING_STRUCK, struck } from '$lib/tuning/struck';
import { HeardStrings } from '$lib/ui/bench/heardStrings.svelte';

/** Readings every 50 ms: a note for so long, or silence; each note is struck, and falls by a third a second. */
function told(
  played: readonly (readonly [note: string | undefined, seconds: number, cents?: number])[],
): number[] {
  let state = NOTHING_STRUCK;
  let atMs = 0;
  const notes: number[] = [];
  for (const [note, seconds, cents = 0] of played)
    for (let at = 0; at < seconds * 20; at++) {
      const midi = note === undefined ? undefined : parsePitch(note)?.midi;
      const level = midi === undefined ? 0.0001 : 0.2 * (2 / 3) ** (at / 20);
      const hz = midi === undefined ? undefined : hzOf(midi + cents / 100);
      const next = struck(state, { atMs, level, hz });
      state = next.state;
      if (next.told !== undefined) notes.push(next.told);
      atMs += 50;
    }
  return notes;
}

describe('strings that are struck', () => {
  it('are told once each, whether or not there is silence between them', () => {
    // F♯4 D♯4 G♯4 of E9: MIDI 66, 63, 68
    expect(
      told([
        ['F#4', 2],
        ['D#4', 2],
        [undefined, 1],
        ['G#4', 2],
      ]),
    ).toEqual([66, 63, 68]);
  });
  it('one long note is one string, and the same note struck anew another', () => {
    expect(told([['E4', 8]])).toEqual([64]);
    expect(
      told([
        ['E4', 3],
        ['E4', 2],
      ]),
    ).toEqual([64, 64]);
  });
  it('need not be in tune, but stand; a passing sound is none', () => {
    expect(
      told([
        ['E4', 2, 30],
        ['B3', 0.2],
        ['G#3', 2, -35],
      ]),
    ).toEqual([64, 56]);
  });
});

const silent: Microphone = {
  open: () => Promise.resolve(ok(undefined)),
  samples: () => undefined,
  sampleRate: 48_000,
  close: () => undefined,
  onlost: undefined,
};
const keyless: Keyboard = {
  open: () => Promise.resolve(ok(undefined)),
  names: () => ['Keys'],
  close: () => undefined,
  onkey: undefined,
  onchange: undefined,
};

describe('open notes that are played', () => {
  it('are called as in a tuning that is known, else plainly', () => {
    // E9 has D♯ for its second string, Bb6 begins with its own B♭
    expect(playedNote(['F#4'], 63)).toBe('D#4');
    expect(playedNote(['F#4', 'D#4'], 68)).toBe('G#4');
    expect(playedNote([], 70)).toBe('Bb4');
  });
  afterEach(() => vi.useRealTimers());
  it('by keys: what goes down is a string', async () => {
    const notes: number[] = [];
    const keyboard = { ...keyless };
    const heard = new HeardStrings(
      () => silent,
      () => keyboard,
      (midi) => notes.push(midi),
    );
    await heard.playKeys();
    expect([heard.by, heard.keyboards]).toEqual(['keyboard', ['Keys']]);
    keyboard.onkey?.({ midi: 66, isDown: true, velocity: 1, channel: 1 });
    keyboard.onkey?.({ midi: 66, isDown: false, velocity: 0, channel: 1 });
    keyboard.onkey?.({ midi: 63, isDown: true, velocity: 1, channel: 1 });
    expect(notes).toEqual([66, 63]);
  });
  it('what is refused is a sentence', async () => {
    const refusing = { ...keyless, open: () => Promise.resolve(refuse('No keys.')) };
    const deaf = { ...silent, open: () => Promise.resolve(refuse('No microphone.')) };
    const heard = new HeardStrings(
      () => deaf,
      () => refusing,
      () => undefined,
    );
    await heard.playKeys();
    expect([heard.problem, heard.by]).toEqual(['No keys.', undefined]);
    await heard.listen();
    expect([heard.problem, heard.by]).toEqual(['No microphone.', undefined]);
  });
  it('the microphone is let go when it is stopped, and says when it goes by itself', async () => {
    vi.useFakeTimers();
    const close = vi.fn();
    const microphone: Microphone = { ...silent, close };
    const heard = new HeardStrings(
      () => microphone,
      () => keyless,
      () => undefined,
    );
    await heard.listen();
    expect(heard.by).toBe('microphone');
    microphone.onlost?.();
    expect([heard.problem, heard.by]).toEqual([
      'The microphone went away. Press Listen to begin again.',
      undefined,
    ]);
    expect(close).toHaveBeenCalledTimes(1);
  });
});
