/**
 * Which strings ring on, and which are picked again. On E9 at fret 3 strings 3, 4, 5 and 6 fall by 60 dB in
 * 7.4, 9.5, 12.1 and 14.0 s (`sustain.ts`); a share s of that brings 60 s + 9 (1 − e^(−s/0.31)) dB. A string is
 * weak where it has fallen by more than 28 dB half a second into the next chord: after 2.2, 2.9, 3.8 and
 * 4.5 s. Beside a string that is picked it may have fallen by 18 dB: 1.6, 2.1, 2.7 and 3.1 s.
 */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { readWishes } from '$lib/answers/readWishes';
import { tabPieceOf } from '$lib/formats/arrangedTab';
import { playedSteps } from '$lib/formats/arrangedScore';
import { tabText } from '$lib/formats/tabText';
import { writeMusicXml } from '$lib/formats/write/musicXml';
import { builtIn } from '$lib/setup/builtIns';
import { strokesOf } from '$lib/playing/strokes';

const E9 = builtIn('e9');
const G = '3//3-4-5';
const C = '3/A,B/3-4-5';

function arranged(text: string, holds: readonly string[]) {
  const { progression } = readProgression(text);
  const locks = holds.map((hold, at) => `${at + 1}=hold:${hold}`).join(';');
  const wishes = readWishes(E9, { locks, sizes: '2-6' });
  if (!wishes.ok) throw new Error('the locks cannot be read');
  const [way] = arrange(E9, progression, wishes.value, 1).ways;
  if (way?.steps.length !== holds.length) throw new Error('not every chord can be held so');
  return { progression, way };
}

function strokes(text: string, ...holds: string[]) {
  const { progression, way } = arranged(text, holds);
  return strokesOf(E9, progression, way.steps);
}

describe('strings', () => {
  it('ring on while they are strong, and bend', () => {
    // a bar is 2 s
    expect(strokes('tempo: 120\nG | C', G, C)).toEqual([
      { held: [], again: [] },
      { held: [3, 4, 5], again: [] },
    ]);
  });

  it('that are weak are picked again together on the last beat, where one of them is to bend', () => {
    // a bar is 2.7 s: string 3 alone is weak, and B raises it
    expect(strokes('tempo: 90\nG | C', G, C)).toEqual([
      { held: [], again: [3] },
      { held: [3, 4, 5], again: [] },
    ]);
    // a bar is 4 s: all are; string 4 stays at its pitch
    expect(strokes('tempo: 60\nG | C', G, C)[0]?.again).toEqual([3, 4, 5]);
  });

  it('that are weak and stay are picked with the chord', () => {
    // a bar is 4 s; strings 4 and 5 are in both grips
    expect(strokes('tempo: 60\nG | G', G, '3//4-5-6')).toEqual([
      { held: [], again: [] },
      { held: [], again: [] },
    ]);
  });

  it('are picked again late in a slow beat too, so that they bend at any tempo', () => {
    // two beats of 3 s a bar, a chord on each: string 3 is weak after 3 s, and not half a beat after a stroke
    expect(strokes('tempo: 20\nmetre: 2/4\nG C', G, C)[0]?.again).toContain(3);
    // a chord on both beats: after 6 s all are weak
    expect(strokes('tempo: 20\nmetre: 2/4\nG | C', G, C)[0]?.again).toEqual([3, 4, 5]);
    expect(strokes('tempo: 20\nmetre: 2/4\nG | C', G, C)[1]?.held).toEqual([3, 4, 5]);
  });

  it('beside one that is picked are picked too, where it would drown them', () => {
    // a bar is 2.4 s: string 6 is new; 4 has fallen by 20 dB, 5 by 16
    expect(strokes('tempo: 100\nG | G', G, '3//4-5-6')[1]?.held).toEqual([5]);
  });

  it('ring through many quick chords', () => {
    // a bar is 0.6 s; string 3 is weak at 2.4 s
    const quick = strokes('tempo: 400\nG | C | G | C | G', G, C, G, C, G);
    expect(quick.map(({ held }) => held.length)).toEqual([0, 3, 3, 3, 3]);
    expect(quick.map(({ again }) => again)).toEqual([[], [], [], [3], []]);
  });
});

describe('what is picked again is written', () => {
  const { progression, way } = arranged('tempo: 60\nG | C', [G, C]);

  it('in tablature: a number on the last beat without a chord above it, and a word about it', () => {
    const text = tabText(tabPieceOf(E9, progression, way));
    const line = text.split('\n').find((each) => each.startsWith('5 '));
    expect(line?.replace(/-+/g, '-')).toBe('5 B  |-3-3-|~3A-|');
    expect(text).toContain('picked again');
    const quick = arranged('tempo: 120\nG | C', [G, C]);
    expect(tabText(tabPieceOf(E9, quick.progression, quick.way))).not.toContain('picked again');
  });

  it('in a score: another note on the last beat, which is not tied to the one before', () => {
    const score = writeMusicXml(E9, progression, playedSteps(E9, progression, way.steps));
    const first = score.slice(0, score.indexOf('<measure number="2"'));
    const types = [...first.matchAll(/<type>(\w+)<\/type>/gu)].map(([, type]) => type);
    // three strings on two staves, each a dotted half and a quarter
    expect(types.filter((type) => type === 'half')).toHaveLength(6);
    expect(types.filter((type) => type === 'quarter')).toHaveLength(6);
    // string 4 alone rings on into the next chord at its pitch
    expect(first.match(/<tie type="stop"/gu)).toBeNull();
    expect(first.match(/<tie type="start"/gu)).toHaveLength(2);
  });
});
