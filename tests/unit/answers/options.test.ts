import { describe, expect, it } from 'vitest';
import { ok, refuse } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import {
  optionFaultText,
  readOptions,
  withoutForm,
  type PlainOption,
  type TellingOption,
} from '$lib/answers/options';

const E9 = builtIn('e9');

/** A string of the first neck, as a table may tell it. */
const STRING: PlainOption<number> = {
  form: /^\d+$/,
  read: (text, { necks }) =>
    necks[0]?.strings[Number(text) - 1] === undefined ? undefined : Number(text),
  allowed: ({ necks }) => `a string, 1 to ${necks[0]?.strings.length ?? 0}`,
};
/** No letter x; the place of the first one is told. */
const PLAIN: TellingOption<string> = {
  tell: (text) => {
    const at = text.indexOf('x');
    if (at < 0) return ok(text);
    const mark = { at, length: 1 };
    return refuse({ found: 'x', allowed: 'No x.', wrong: 'unreadable', mark });
  },
};

describe('a table of options', () => {
  it('gives the values of what is given, and no other keys', () => {
    const table = { one: STRING, other: STRING, plain: PLAIN };
    expect(readOptions(table, E9, { one: '3', plain: 'abc' })).toEqual({
      values: { one: 3, plain: 'abc' },
      faults: [],
    });
    const { values } = readOptions(table, E9, {});
    expect(Object.keys(values)).toEqual([]);
  });

  it('counts a text of spaces as left out, and passes over spaces around one', () => {
    const { values, faults } = readOptions({ one: STRING, other: STRING }, E9, {
      one: '  ',
      other: ' 4 ',
    });
    expect(values).toEqual({ other: 4 });
    expect(faults).toEqual([]);
  });

  it('reads a value that is false, 0 or empty like any other', () => {
    const always = <T>(value: T): PlainOption<T> => ({ read: () => value, allowed: () => '' });
    const table = { no: always(false), nought: always(0), nothing: always('') };
    const { values, faults } = readOptions(table, E9, { no: 'a', nought: 'a', nothing: 'a' });
    expect(values).toEqual({ no: false, nought: 0, nothing: '' });
    expect(faults).toEqual([]);
  });

  it('tells what a setup has not got apart from what makes no sense', () => {
    const read = (text: string) => readOptions({ one: STRING }, E9, { one: text }).faults;
    // the E9 neck has ten strings: model, section 2
    const allowed = 'a string, 1 to 10';
    expect(read('11')).toEqual([{ path: 'one', found: '“11”', allowed, wrong: 'impossible' }]);
    expect(read(' third')).toEqual([
      { path: 'one', found: '“third”', allowed, wrong: 'unreadable' },
    ]);
  });

  it('calls an option without a form unreadable whatever is wrong', () => {
    const { faults } = readOptions({ one: withoutForm(STRING) }, E9, { one: '11' });
    expect(faults.map(({ wrong }) => wrong)).toEqual(['unreadable']);
  });

  it('does not ask the reader about a text of another form', () => {
    const strict: PlainOption<string> = { form: /^a/, read: (text) => text, allowed: () => 'a' };
    expect(readOptions({ strict }, E9, { strict: 'b' }).values).toEqual({});
  });

  it('tells every fault, in the order of the table', () => {
    const { values, faults } = readOptions({ b: STRING, a: STRING, c: PLAIN, d: STRING }, E9, {
      d: '0',
      c: 'x',
      a: '2',
      b: '?',
    });
    expect(values).toEqual({ a: 2 });
    expect(faults.map(({ path }) => path)).toEqual(['b', 'c', 'd']);
  });

  it('asks for a needed option that is not given, and for no other', () => {
    const needed: TellingOption<string> = {
      needed: true,
      tell: (text) =>
        text === '' ? refuse({ found: 'nothing', allowed: 'x', wrong: 'impossible' }) : ok(text),
    };
    const { faults } = readOptions({ needed, plain: PLAIN, one: STRING }, E9, {});
    expect(faults.map(({ path }) => path)).toEqual(['needed']);
  });

  it('hands the text as it was written to an option that marks places in it', () => {
    const [fault] = readOptions({ plain: PLAIN }, E9, { plain: '  ax' }).faults;
    expect(fault?.mark).toEqual({ at: 3, length: 1 });
  });

  it('says a fault in one sentence; a marked one is its own', () => {
    const fault = { path: 'one', found: '“x”', allowed: 'a string', wrong: 'unreadable' } as const;
    expect(optionFaultText(fault)).toBe('one: found “x”; allowed is a string.');
    const marked = { ...fault, allowed: 'No x here.', mark: { at: 0, length: 1 } };
    expect(optionFaultText(marked)).toBe('No x here.');
  });
});
