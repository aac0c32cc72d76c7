/** Edits as a player makes them on the E9 neck; its tuning and pulls are common practice of the trade. */
import { describe, expect, it } from 'vitest';
import { pitchText } from '$lib/theory/pitch';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { addControl, removeControl, setId } from '$lib/setup/edits/controls';
import type { Edited } from '$lib/setup/edits/edited';
import { setFigure, setSplitStops } from '$lib/setup/edits/figures';
import { readWire } from '$lib/setup/edits/wireText';
import { addNeck, removeNeck, transposeNeck } from '$lib/setup/edits/necks';
import { movePull, nudgePull, pullAt, setPull } from '$lib/setup/edits/pulls';
import { allow, switchOff } from '$lib/setup/edits/reach';
import { begun, emptySetup } from '$lib/setup/edits/start';
import { reversePedals, setStation } from '$lib/setup/edits/stations';
import { addString, moveString, removeString, setOpen } from '$lib/setup/edits/strings';
import type { Setup } from '$lib/setup/setup';

const E9 = builtIn('e9');
const must = (result: Edited): Setup => {
  if (!result.ok) throw new Error(result.error);
  return result.value;
};
const said = (result: Edited): string => (result.ok ? 'no fault' : result.error);
const opens = (setup: Setup, neck = 1): string =>
  setup.necks[neck - 1]?.strings.map(({ open }) => pitchText(open)).join(' ') ?? '';
const pulls = (setup: Setup, id: string): string =>
  setup.controls
    .find((control) => control.id === id)
    ?.pulls.map(({ string, semitones }) => `${string}:${semitones}`)
    .join(' ') ?? 'none';

describe('a pull is written as', () => {
  // string 5 of E9 is B3
  const cell = { id: 'A', neck: 1, string: 5 };
  it.each([
    ['+2', { semitones: 2 }],
    ['3', { semitones: 3 }],
    ['−1', { semitones: -1 }],
    ['-1/-2', { semitones: -2, half: -1 }],
    ['-1/2', { semitones: -2, half: -1 }],
    // a raise from B to C♯ is two semitones, a lower to A♯ one
    ['C#', { semitones: 2 }],
    ['c♯', { semitones: 2 }],
    ['Bb', { semitones: -1 }],
    ['C/C#', { semitones: 2, half: 1 }],
    ['D4', { semitones: 3 }],
    ['E3', { semitones: -7 }],
  ])('%s', (text, travel) => {
    const pull = pullAt(must(setPull(E9, cell, text)), cell);
    expect(pull).toEqual({ neck: 1, string: 5, ...travel });
  });

  it('nothing, where it is to go', () => {
    expect(pulls(must(setPull(E9, cell, ' ')), 'A')).toBe('10:2');
  });

  it.each([
    ['+8', /at most 7/],
    ['0', /leave the cell empty/],
    ['B', /B3 is the open note/],
    // F is six semitones from B, up or down
    ['F', /\+6 or -6/],
    ['+1/-2', /on the way to -2; \+1 does not/],
    ['2/2', /on the way/],
    ['+1/+1', /no half-stop/],
    ['H', /“H” is no pull/],
    ['1/2/3', /more than two stops/],
  ])('but not %s', (text, reason) => {
    expect(said(setPull(E9, cell, text))).toMatch(reason);
  });

  it('a semitone more or less, the half-stop staying while it lies on the way', () => {
    const lever = { id: 'RKR', neck: 1, string: 2 };
    expect(pullAt(E9, lever)).toMatchObject({ semitones: -2, half: -1 });
    expect(pullAt(must(nudgePull(E9, lever, -1)), lever)).toMatchObject({
      semitones: -3,
      half: -1,
    });
    expect(pullAt(must(nudgePull(E9, lever, 1)), lever)).toEqual({
      neck: 1,
      string: 2,
      semitones: -1,
    });
    expect(pullAt(must(movePull(E9, lever, 0)), lever)).toBeUndefined();
    expect(must(nudgePull(must(movePull(E9, lever, 7)), lever, 1))).toEqual(
      must(movePull(E9, lever, 7)),
    );
  });
});

describe('strings', () => {
  it('are tuned by name, to the near octave where none is said', () => {
    expect(opens(must(setOpen(E9, 1, 9, 'C#')))).toMatch(/ C#3 B2$/);
    expect(opens(must(setOpen(E9, 1, 10, 'C')))).toMatch(/ D3 C3$/);
    expect(said(setOpen(E9, 1, 9, 'H3'))).toMatch(/no pitch/);
    expect(said(setOpen(E9, 1, 9, 'C9'))).toMatch(/E9, string 9, open note/);
  });

  it('take their pulls along when one comes, goes or moves', () => {
    expect(pulls(must(addString(E9, 1, 1)), 'B')).toBe('4:1 7:1');
    expect(pulls(must(removeString(E9, 1, 3)), 'B')).toBe('5:1');
    // string 3 goes behind string 6: 4, 5, 6 become 3, 4, 5
    const moved = must(moveString(E9, 1, 3, 6));
    expect(opens(moved)).toBe('F#4 D#4 E4 B3 G#3 G#4 F#3 E3 D3 B2');
    expect(pulls(moved, 'B').split(' ').sort()).toEqual(['5:1', '6:1']);
    expect(pulls(moved, 'A')).toBe('4:2 10:2');
  });

  // common practice of the trade, from memory: the sixth tunings of six and of eight strings, the universal
  // twelve's B6 strings under E9's, open G
  it.each([
    ['lap6-c6', 7, 'A2'],
    ['lap6-c6', 1, 'G4'],
    ['lap8-c6', 9, 'G2'],
    ['lap6-a6', 7, 'A2'],
    ['e9', 11, 'G#2'],
    ['square6-g', 7, 'D2'],
    // between E4 and C4 of C6 is none of its notes: midway lies D4
    ['lap6-c6', 2, 'D4'],
    // between G♯4 and E4 of E9 lies F♯4, which string 1 has: of F4 and G4, both as far from
    // the middle, the upper
    ['e9', 4, 'G4'],
    // between B3 and E4: D4, which string 9 has an octave lower
    ['e9', 5, 'D4'],
  ] as const)('of %s, added before string %i, begins with %s', (id, at, open) => {
    const longer = must(addString(builtIn(id), 1, at));
    expect(opens(longer).split(' ')[at - 1]).toBe(open);
  });

  it('added never have a note that the neck has, however many there are', () => {
    for (const id of BUILT_IN_IDS)
      for (const at of ['first', 'second', 'last'] as const) {
        let setup = builtIn(id);
        const before = opens(setup).split(' ');
        while ((setup.necks[0]?.strings.length ?? 14) < 14) {
          const count = setup.necks[0]?.strings.length ?? 0;
          setup = must(addString(setup, 1, { first: 1, second: 2, last: count + 1 }[at]));
        }
        const after = opens(setup).split(' ');
        expect(new Set(after).size - new Set(before).size, `${id} ${at}`).toBe(
          after.length - before.length,
        );
      }
    // at the bottom of what an instrument can have, the tuning goes on upwards
    const lowest = must(begun('C0 D0'));
    expect(opens(must(addString(lowest, 1, 3)))).toBe('C0 D0 C1');
  });

  it('are fourteen at most and one at least', () => {
    let many = E9;
    for (let strings = 10; strings < 14; strings++) many = must(addString(many, 1, 1));
    expect(said(addString(many, 1, 1))).toMatch(/at most 14/);
    let few = E9;
    for (let strings = 10; strings > 1; strings--) few = must(removeString(few, 1, 1));
    expect(said(removeString(few, 1, 1))).toMatch(/at least one/);
  });

  it.each([
    ['.013', { gauge: 0.013 }],
    ['13', { gauge: 0.013 }],
    ['0.0115"', { gauge: 0.0115 }],
    ['.036w', { gauge: 0.036, wound: true }],
    ['36W/.016', { gauge: 0.036, wound: true, coreGauge: 0.016 }],
    ['', {}],
  ])('have a wire written as “%s”', (text, wire) => {
    expect(readWire(text)).toEqual({ ok: true, value: wire });
  });

  it.each(['thin', '.5', '.036/.016', '.02w/.03', '13/16'])('but not as %s', (text) => {
    expect(readWire(text).ok).toBe(false);
  });
});

describe('pedals and levers', () => {
  const places = (setup: Setup): string =>
    setup.controls.map(({ id, station }) => `${id}@${station}`).join(' ');

  it('A B C becomes C B A, the levers staying', () => {
    expect(places(must(reversePedals(E9)))).toBe(
      'A@P3 B@P2 C@P1 LKL@LKL LKV@LKV LKR@LKR RKL@RKL RKR@RKR',
    );
  });

  it('called by their stations are called by the new ones', () => {
    // C6 has P4 to P8 (common practice): P4 and P8 change places with their pulls
    const c6 = builtIn('c6');
    const turned = must(reversePedals(c6));
    expect(pulls(turned, 'P8')).toBe(pulls(c6, 'P4'));
    expect(pulls(turned, 'P4')).toBe(pulls(c6, 'P8'));
    expect(pulls(turned, 'P6')).toBe(pulls(c6, 'P6'));
  });

  it('change places where the new one is taken', () => {
    expect(places(must(setStation(E9, 'A', 'P2')))).toMatch(/^A@P2 B@P1 C@P3/);
    expect(places(must(setStation(E9, 'A', 'P4')))).toMatch(/^A@P4 B@P2 C@P3/);
    const levers = must(setStation(E9, 'LKL', 'LKR'));
    expect(pulls(levers, 'LKR')).toBe(pulls(E9, 'LKL'));
  });

  it('have ids of their own, which the exceptions follow', () => {
    expect(said(setId(E9, 'A', 'B'))).toMatch(/another control B/);
    expect(said(setId(E9, 'A', 'too long a name'))).toMatch(/8 characters/);
    expect(said(setId(E9, 'A', 'a+b'))).toMatch(/one word/);
    const off = must(switchOff(E9, ['A', 'LKV']));
    expect(must(setId(off, 'A', 'Z')).reach.never).toEqual([['Z', 'LKV']]);
    expect(must(removeControl(off, 'LKV')).reach.never).toBeUndefined();
    expect(said(addControl(E9, 'P1'))).toMatch(/there is A already/);
  });
});

describe('exceptions from the reach', () => {
  it('allowing takes back what was switched off, and switching off what was allowed', () => {
    const off = must(switchOff(E9, ['LKV', 'A']));
    expect(off.reach.never).toEqual([['A', 'LKV']]);
    expect(must(allow(off, ['A', 'LKV'])).reach).toEqual(E9.reach);
    const gap = must(allow(E9, ['A', 'C']));
    expect(gap.reach.also).toEqual([['A', 'C']]);
    expect(must(switchOff(gap, ['A', 'C'])).reach).toEqual({ ...E9.reach, never: [['A', 'C']] });
    expect(said(allow(E9, ['A', 'B']))).toMatch(/as it is/);
    expect(said(switchOff(off, ['A', 'LKV']))).toMatch(/already/);
  });
});

describe('necks', () => {
  it('go up and down as a whole', () => {
    expect(opens(must(transposeNeck(E9, 1, -2)))).toBe('E4 C#4 F#4 D4 A3 F#3 E3 D3 C3 A2');
    expect(opens(must(transposeNeck(E9, 1, 12)))).toBe('F#5 D#5 G#5 E5 B4 G#4 F#4 E4 D4 B3');
    expect(said(transposeNeck(E9, 1, 60))).toMatch(/String 1 would be F#9/);
  });

  it('come and go with the pulls on them', () => {
    const two = must(addNeck(E9, builtIn('c6').necks[0]!));
    expect(two.necks).toHaveLength(2);
    const second = must(removeNeck(builtIn('double'), 1));
    expect(opens(second)).toBe(opens(builtIn('double'), 2));
    expect(pulls(second, 'P5').split(' ').sort()).toEqual(
      pulls(builtIn('c6'), 'P5').split(' ').sort(),
    );
    expect(pulls(second, 'A')).toBe('');
    expect(said(removeNeck(E9, 1))).toMatch(/at least one/);
  });

  // the sixth tunings of lap steels: common practice of the trade, from memory
  it.each([
    ['C', 8, 'G4 E4 C4 A3 G3 E3 C3 A2', 'C6'],
    ['C', 6, 'E4 C4 A3 G3 E3 C3', 'C6'],
    ['A major', 6, 'E4 C#4 A3 F#3 E3 C#3', 'A6'],
    ['C', undefined, 'G4 E4 C4 A3 G3 E3 C3 A2', 'C6'],
    // the tonic chord of E minor with its seventh: E G B D
    ['Em', 5, 'E4 D4 B3 G3 E3', 'Em7'],
    // E♭ G B♭ C, spelled in its key
    ['Eb', 4, 'Eb4 C4 Bb3 G3', 'Eb6'],
    ['D4 B3 G3 D3 B2 G2', undefined, 'D4 B3 G3 D3 B2 G2', 'D B G D B G'],
    ['e c a g', undefined, 'E4 C4 A3 G3', 'E C A G'],
    // the universal twelve's lower strings follow from E9's own notes
    ['F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2', 11, 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2 G#2', ''],
    // as E9 is strung, its first strings re-entrant (common practice of the trade, from memory)
    ['F# D# G# E B G# F# E D B', undefined, 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2', ''],
    ['D E C A G E C A F C', undefined, 'D4 E4 C4 A3 G3 E3 C3 A2 F2 C2', ''],
    // an octave that is written counts, whatever tuning has those notes
    ['E5 C A G', undefined, 'E5 C5 A4 G4', ''],
    ['Bb, F, D', 4, 'Bb3 F3 D3 Bb2', 'Bb F D'],
  ] as const)('begin from “%s” with %s strings', (text, count, strings, name) => {
    const setup = must(begun(text, count));
    expect(opens(setup)).toBe(strings);
    if (name !== '') expect(setup.necks[0]?.name).toBe(name);
    expect(setup.controls).toEqual([]);
  });

  it.each([
    ['', undefined, /key.*notes/],
    ['H4 C4', undefined, /“H4” is no key and no note/],
    ['C', 15, /1 to 14 strings/],
    ['C', 0, /1 to 14 strings/],
    ['E C A', 2, /3 notes are more than 2 strings/],
    ['C4 '.repeat(15), undefined, /15 notes are more than the 14/],
    ['C9 C4', undefined, /string 1, open note: found/],
  ] as const)('do not begin from “%s” with %s strings', (text, count, why) => {
    expect(said(begun(text, count))).toMatch(why);
  });

  it('stand alone in a setup that begins empty', () => {
    expect(emptySetup(E9.necks)).toMatchObject({ controls: [], frets: 24, necks: E9.necks });
  });
});

it('a figure is a number within its bounds', () => {
  expect(must(setFigure(E9, 'scaleLengthMm', '622,3')).scaleLengthMm).toBe(622.3);
  expect(said(setFigure(E9, 'frets', '99'))).toBe(
    'Frets: found 99; allowed is a whole number from 0 to 36.',
  );
  expect(said(setFigure(E9, 'frets', 'many'))).toMatch(/no number/);
});

describe('split stops', () => {
  it('are told of the changer, and taken back', () => {
    const told = must(setSplitStops(E9, true));
    expect(told.splitStops).toBe(true);
    expect(must(setSplitStops(told, false))).toEqual(E9);
  });

  it('lose their target when the lower becomes a raise', () => {
    const cell = { id: 'LKV', neck: 1, string: 5 };
    const set: Setup = {
      ...E9,
      controls: E9.controls.map((control) => ({
        ...control,
        pulls: control.pulls.map((pull) =>
          control.id === 'LKV' ? { ...pull, splitCents: -4 } : pull,
        ),
      })),
    };
    expect(pullAt(must(setPull(set, cell, '-2')), cell)?.splitCents).toBe(-4);
    expect(pullAt(must(setPull(set, cell, '+1')), cell)?.splitCents).toBeUndefined();
  });
});
