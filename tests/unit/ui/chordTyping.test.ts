/** What stands in the field for a chord while notes are called otherwise. */
import { describe, expect, it } from 'vitest';
import type { NoteNames } from '$lib/theory/noteNames';
import { ChordTyping } from '$lib/ui/explore/chordTyping.svelte';
import { chosenNames } from '$lib/ui/kit/noteNames.svelte';

function field(names: NoteNames, chord = 'C') {
  const asked = { chord, key: '', names };
  const typing = new ChordTyping(
    () => asked.names,
    () => asked.chord,
    () => asked.key,
  );
  const type = (text: string): void => {
    const read = typing.type(text);
    if (read.ok) asked.chord = read.value;
  };
  return { asked, typing, type };
}

describe('the field for a chord', () => {
  it('asks in letters and shows what was typed', () => {
    const { asked, typing, type } = field('german');
    type('Hm7');
    expect(asked.chord).toBe('Bm7');
    expect(typing.shown).toBe('Hm7');
    type('Fis / Ais');
    expect(asked.chord).toBe('F#/A#');
    expect(typing.shown).toBe('Fis / Ais');
  });

  it('shows what comes from elsewhere as notes are called', () => {
    const { asked, typing, type } = field('german', 'Bb7');
    expect(typing.shown).toBe('B7');
    type('Es');
    asked.chord = 'Ab';
    expect(typing.shown).toBe('As');
    asked.names = 'solfege';
    expect(typing.shown).toBe('La♭');
    asked.names = 'letters';
    expect(typing.shown).toBe('Ab');
  });

  it('offers both readings of a small German letter, and keeps the question', () => {
    const { asked, typing, type } = field('german');
    type('h7');
    expect(asked.chord).toBe('C');
    expect(typing.shown).toBe('h7');
    expect(typing.twoWays?.readings).toEqual(['Bm7', 'B7']);
    expect(typing.twoWays?.sentence).toContain('Did you mean Hm7 or H7?');
    asked.chord = 'Bm7';
    typing.took();
    expect(typing.shown).toBe('Hm7');
    expect(typing.twoWays).toBeUndefined();
  });

  it('leaves letters as they are typed', () => {
    const { asked, typing, type } = field('letters');
    type(' c#m7');
    expect(asked.chord).toBe(' c#m7');
    expect(typing.shown).toBe(' c#m7');
  });

  it('takes a key the same way', () => {
    const { asked, typing } = field('german');
    asked.key = typing.typeKey('h-Moll');
    expect(asked.key).toBe('Bm');
    expect(typing.shownKey).toBe('h-Moll');
    asked.key = 'Eb';
    expect(typing.shownKey).toBe('Es');
  });
});

describe('the choice', () => {
  it('is remembered on this device, and a text that is none of the three is letters', async () => {
    const kept = new Map<string, string>();
    const before = Object.getOwnPropertyDescriptor(globalThis, 'localStorage');
    Object.defineProperty(globalThis, 'localStorage', {
      configurable: true,
      value: {
        getItem: (name: string) => kept.get(name) ?? null,
        setItem: (name: string, text: string) => kept.set(name, text),
      },
    });
    try {
      await chosenNames.choose('german');
      expect(chosenNames.now).toBe('german');
      await chosenNames.recall();
      expect(chosenNames.now).toBe('german');
      for (const name of kept.keys()) kept.set(name, 'latin');
      await chosenNames.recall();
      expect(chosenNames.now).toBe('letters');
    } finally {
      if (before) Object.defineProperty(globalThis, 'localStorage', before);
      else Reflect.deleteProperty(globalThis, 'localStorage');
    }
  });
});
