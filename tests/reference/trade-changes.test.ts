/**
 * What a control is for, on E9 and C6: common practice of the trade, no published source. Fret 0
 * stands for every fret.
 */
import { describe, expect, it } from 'vitest';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { engagedText } from '$lib/setup/engagedText';
import { withoutControl } from '$lib/setup/proposal';
import { changeBetween } from '$lib/coverage/change';
import type { ChangeKind } from '$lib/coverage/changeKinds';
import { changedVoicing } from '$lib/coverage/changedVoicing';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf } from '$lib/coverage/lesson';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { yardstick } from '$lib/coverage/yardstick';

const by = yardstick(EVERYDAY_REPERTOIRE);

/** `F#m B+C 3-4-5` for every grip of a list, with the bar at the nut. */
function listed(id: BuiltInId, without: string, way: 'taking away' | 'adding', kind: ChangeKind) {
  const has = builtIn(id);
  const lacks = withoutControl(has, without);
  const change = way === 'adding' ? changeBetween(lacks, has, by) : changeBetween(has, lacks, by);
  return change.shapes[kind].flatMap((shape) => {
    const { chords, voicing } = changedVoicing(change, shape, 0);
    const held = engagedText(voicing.ways[0] ?? []);
    return chords.map(({ symbol }) => `${symbol} ${held} ${voicing.strings.join('-')}`);
  });
}

describe('what a control is for', () => {
  it('taking C from E9 loses the B+C minor', () => {
    const lost = listed('e9', 'C', 'taking away', 'lost');
    for (const grip of ['3-4-5', '4-5-6', '3-4-5-6']) expect(lost).toContain(`F#m B+C ${grip}`);
  });

  it('LKL adds the A+LKL major three frets up, and the diminished chords', () => {
    const gained = listed('e9', 'LKL', 'adding', 'gained');
    // C sharp (D flat as a major root is spelled) at the fret where E lies open
    for (const grip of ['5-6-8', '6-8-10']) expect(gained).toContain(`Db A+LKL ${grip}`);
    for (const grip of ['3-4-5', '4-5-6', '5-6-8', '6-8-10'])
      expect(gained).toContain(`Fdim LKL ${grip}`);
  });

  it('LKR brings the B7 of B+LKR and the minor of strings 3-4-5', () => {
    const gained = listed('e9', 'LKR', 'adding', 'gained');
    expect(gained).toContain('B7 B+LKR 4-5-6-7');
    expect(gained).toContain('B7 B+LKR 1-3-4-5');
    expect(gained).toContain('G#m LKR 3-4-5');
  });

  it('P5 of C6 brings the ninth: D9', () => {
    const c6 = builtIn('c6');
    const sizes = [5, 5] as const;
    const change = changeBetween(withoutControl(c6, 'P5'), c6, by, { sizes, slants: false });
    const gained = change.shapes.gained.map((shape) => changedVoicing(change, shape, 0));
    const d9 = gained.find(({ voicing }) => voicing.strings.join('-') === '6-7-8-9-10');
    expect(d9?.chords.map(({ symbol }) => symbol)).toContain('D9');
    expect(engagedText(d9?.voicing.ways[0] ?? [])).toBe('P5');
  });

  it('with the bar still, B pressed beside A turns C sharp minor into A, three to five', () => {
    const lesson = lessonOf(builtIn('e9'), 'B', by);
    const besideA = lesson.moves.find(({ held }) => engagedText(held) === 'A');
    const grip = besideA?.grips.find(({ strings }) => strings.join('-') === '3-4-5');
    // strings 3, 4, 5 with A: G sharp 4, E 4, C sharp 4; with B too the first is A 4
    expect(grip?.from).toEqual([68, 64, 61]);
    expect(grip?.to).toEqual([69, 64, 61]);
    const said = (chordNumber: number | undefined, fret: number): string =>
      chordInKey(by, chordNumber ?? 0, fret, keyAt(lesson, 1, fret)).symbol;
    expect([said(besideA?.was, 0), said(besideA?.is, 0)]).toEqual(['C#m', 'A']);
    // eight frets up: C sharp minor is A minor, A is F
    expect([said(besideA?.was, 8), said(besideA?.is, 8)]).toEqual(['Am', 'F']);
  });

  it('what C alone gives begins with the B+C minor', () => {
    const lesson = lessonOf(builtIn('e9'), 'C', by);
    const [first] = lesson.opens;
    expect(first && chordInKey(by, first.chordNumber, 0, keyAt(lesson, 1, 0)).symbol).toBe('F#m');
  });
});
