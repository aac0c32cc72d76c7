import { describe, expect, it } from 'vitest';
import { USUAL, choicesFrom } from '$lib/ui/sound/listening.svelte';
import { fileNameOf } from '$lib/ui/paper/saving';

describe('what was kept of the choices', () => {
  it('is taken over where it can be chosen', () => {
    expect(choicesFrom({ level: 0.3, manner: 'together', vibrato: true })).toEqual({
      ...USUAL,
      level: 0.3,
      manner: 'together',
      vibrato: true,
    });
  });

  it.each([
    [{ level: 7 }],
    [{ level: 'loud' }],
    [{ manner: 'backwards' }],
    [{ timbre: 3 }],
    [{ vibrato: 'yes' }],
    [{ constructor: true }],
    [{ nothing: 1 }],
  ])('is passed over where it cannot: %j', (kept) => {
    expect(choicesFrom(kept)).toEqual(USUAL);
  });

  it('is moderate where nothing was kept', () => {
    expect(choicesFrom({}).level).toBeLessThan(0.8);
  });
});

it.each([
  ['C♯m7♭5', 'C-sharp-m7b5.wav'],
  ['C#m7', 'C-sharp-m7.wav'],
  ['F/C', 'F-C.wav'],
  ['Für den Schuppen', 'Für-den-Schuppen.wav'],
  ['…', 'gripwright.wav'],
])('the sound of %s is saved as %s', (name, file) => {
  expect(fileNameOf(name, 'wav')).toBe(file);
});
