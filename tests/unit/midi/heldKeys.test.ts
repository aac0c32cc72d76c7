/** Chords that are held on a keyboard. Names and pitches by hand; 60 is middle C, C4 (MIDI 1.0, Scientific pitch). */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answerOf, heldAfter, namedKeys, typedFor } from '$lib/midi/heldKeys';
import type { KeyMove } from '$lib/midi/message';
import { readQuestion } from '$lib/answers/question';
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import { pitchText } from '$lib/theory/pitch';
import { parseKey } from '$lib/theory/spelling';
import { HeldChord } from '$lib/ui/midi/heldChord.svelte';

const move = (midi: number, isDown = true): KeyMove => ({
  ...{ midi, isDown, velocity: isDown ? 0.5 : 0, channel: 1 },
});

describe('keys that are held', () => {
  it('come and go, each once, lowest first', () => {
    const held = [move(67), move(60), move(67), move(64), move(60, false)].reduce(heldAfter, []);
    expect(held).toEqual([64, 67]);
  });
  it('are named, and spelled as their chord is or as the key asks', () => {
    const notes = (keys: number[], key?: string) =>
      namedKeys(keys, parseKey(key ?? ''))
        .pitches.map(pitchText)
        .join(' ');
    expect(namedKeys([60, 64, 67]).names[0]?.symbol).toBe('C');
    expect(namedKeys([60, 67]).interval).toMatch(/fifth/);
    expect(notes([56, 60, 63])).toBe('Ab3 C4 Eb4');
    expect(notes([56, 59, 64])).toBe('G#3 B3 E4');
    expect(notes([63], 'E')).toBe('D#4');
  });
  it('ask as typed notes do, as a typed name does, or not at all', () => {
    const keys = [64, 68, 71];
    const setup = builtIn(USUAL_SETUP);
    const asked = (text: string | undefined) => readQuestion(setup, { chord: text ?? '' });
    const byPitches = asked(typedFor(keys, 'pitches'));
    expect(byPitches.ok && byPitches.value.pitches).toEqual(keys);
    const byName = asked(typedFor(keys, 'name'));
    expect(byName.ok && [byName.value.chord.symbol, byName.value.pitches]).toEqual([
      'E',
      undefined,
    ]);
    expect(typedFor(keys, 'told')).toBeUndefined();
    // one key is no chord
    expect([typedFor([60], 'pitches'), typedFor([60, 72], 'pitches')]).toEqual([
      undefined,
      undefined,
    ]);
  });
});

describe('a chord on a keyboard', () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] }));
  afterEach(() => void vi.useRealTimers());
  const asked: string[] = [];
  const held = () => {
    asked.length = 0;
    return new HeldChord(
      () => undefined,
      (chord) => asked.push(chord),
    );
  };
  it('asks once, when all its fingers are down', () => {
    const chord = held();
    for (const key of [60, 64, 67]) {
      chord.take(move(key));
      vi.advanceTimersByTime(60);
    }
    expect(asked).toEqual([]);
    vi.advanceTimersByTime(200);
    for (const key of [60, 64, 67]) chord.take(move(key, false));
    vi.advanceTimersByTime(500);
    expect(asked).toEqual(['C4 E4 G4']);
    chord.mean('name');
    expect(asked).toEqual(['C4 E4 G4', 'C']);
  });
  it('that is let go at once was held all the same', () => {
    const chord = held();
    for (const key of [60, 64, 67]) chord.take(move(key));
    for (const key of [64, 60, 67]) chord.take(move(key, false));
    expect(asked).toEqual(['C4 E4 G4']);
    vi.advanceTimersByTime(500);
    expect(asked).toHaveLength(1);
  });
});

describe('a card', () => {
  it.each([
    [[60], [60, 64], 'pitches', 'unfinished'],
    [[60, 64], [60, 64], 'pitches', 'right'],
    [[72, 64], [60, 64], 'pitches', 'wrong'],
    [[72, 64], [60, 64], 'notes', 'right'],
    [[48, 60, 65], [60, 64], 'notes', 'wrong'],
    [[], [60], 'notes', 'unfinished'],
  ] as const)('keys %j of %j by %s: %s', (keys, wanted, by, answer) => {
    expect(answerOf(keys, wanted, by)).toBe(answer);
  });
});
