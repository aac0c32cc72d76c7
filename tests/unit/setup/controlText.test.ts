import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { controlText, idAt, readControl } from '$lib/setup/controlText';
import { proposalBetween, proposed } from '$lib/setup/proposal';

const e9 = builtIn('e9');
const value = (text: string, setup = e9) => {
  const read = readControl(setup, text);
  return read.ok ? read.value : read.error.allowed;
};

describe('a control in a text', () => {
  it('is a station and its pulls', () => {
    expect(value('LKV:5-1,10-1')).toEqual({
      id: 'LKV',
      station: 'LKV',
      pulls: [
        { neck: 1, string: 5, semitones: -1 },
        { neck: 1, string: 10, semitones: -1 },
      ],
    });
    expect(value(' P4 : 1+2 , 10−3 ')).toMatchObject({
      pulls: [{ semitones: 2 }, { semitones: -3 }],
    });
  });

  it('says a half-stop before the full one, and the neck before the string', () => {
    expect(value('RKR:2-1/-2,9-1')).toMatchObject({
      pulls: [
        { neck: 1, string: 2, semitones: -2, half: -1 },
        { neck: 1, string: 9, semitones: -1 },
      ],
    });
    expect(value('RKV:2.3+1', builtIn('double'))).toMatchObject({
      pulls: [{ neck: 2, string: 3, semitones: 1 }],
    });
  });

  it('keeps the id of the control that stands there', () => {
    // the third pedal of the built-in E9 is called C
    expect(value('P3:4+2')).toMatchObject({ id: 'C', station: 'P3' });
    const named = { ...e9, controls: [{ id: 'RKV', station: 'P9' as const, pulls: [] }] };
    expect(idAt(named, 'RKV')).not.toBe('RKV');
  });

  it.each(['e9', 'c6', 'universal12', 'double'] as const)(
    'is written as it is read, on %s',
    (id) => {
      const setup = builtIn(id);
      for (const control of setup.controls) {
        const again = readControl(setup, controlText(control));
        expect(again.ok && controlText(again.value)).toBe(controlText(control));
        expect(again.ok && again.value.pulls).toEqual(control.pulls);
      }
    },
  );

  it.each([
    ['LKV', /station and its pulls/],
    ['XYZ:5-1', /P1.*RKR/],
    ['LKV:five', /5-1/],
    ['LKV:11-1', /1 to 10/],
    ['LKV:0-1', /1 to 10/],
    ['LKV:2.1+1', /has 1/],
    ['LKV:5-8', /1 to 7/],
    ['LKV:5+0', /1 to 7/],
    ['LKV:5-1,5-2', /one pull for string 5/],
    ['LKV:5-2/-1', /half-stop/],
    ['LKV:5+1/-2', /half-stop/],
  ])('“%s” is refused with what would be right', (text, allowed) => {
    expect(value(text)).toMatch(allowed);
  });
});

describe('a proposal', () => {
  it('adds, replaces, takes away and retunes', () => {
    const made = proposed(e9, {
      with: ['RKV:7+1', 'LKV:5-2'],
      without: ['C'],
      open: ['9:C#3'],
    });
    if (!made.ok) throw new Error(JSON.stringify(made.error));
    const { controls, necks } = made.value;
    expect(controls.map(({ id }) => id)).toEqual('A B LKL LKV LKR RKL RKV RKR'.split(' '));
    expect(controls.find(({ id }) => id === 'LKV')?.pulls).toEqual([
      { neck: 1, string: 5, semitones: -2 },
    ]);
    expect(necks[0]?.strings[8]?.open.midi).toBe(49);
    expect(proposalBetween(e9, made.value)).toEqual({
      with: ['LKV:5-2', 'RKV:7+1'],
      without: ['C'],
      open: ['9:C#3'],
    });
  });

  it('tells every fault, and what the file format does not allow', () => {
    const wrong = proposed(e9, { with: ['LKV:44+1'], without: ['Q'], open: ['12:C4'] });
    expect(wrong.ok ? [] : wrong.error.map(({ path }) => path).sort()).toEqual([
      'open',
      'with',
      'without',
    ]);
    // open strings lie between C0 and C8
    const high = proposed(e9, { open: ['1:D8'] });
    expect(high.ok).toBe(false);
  });
});
