import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import {
  QUESTION_PARTS,
  readQuestion,
  type Question,
  type QuestionPart,
  type QuestionTexts,
} from '$lib/answers/question';
import { balanceText } from '$lib/answers/questionParts';
import { readEngaged } from '$lib/answers/readEngaged';

const E9 = builtIn('e9');

/** A question that reads; the chord is E where none is named. */
function read(texts: QuestionTexts, setup = E9): Question {
  const result = readQuestion(setup, { chord: 'E', ...texts });
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}
const faults = (texts: QuestionTexts, setup = E9) => {
  const result = readQuestion(setup, { chord: 'E', ...texts });
  return result.ok ? [] : result.error;
};

describe('a question with a chord alone', () => {
  it('asks for everything: all necks, frets, controls; three and four strings', () => {
    // defaults: model, sections 4, 5 and 8
    expect(read({})).toMatchObject({
      chord: { symbol: 'E' },
      necks: [1],
      frets: [0, 24],
      sizes: [3, 4],
      match: 'lean',
      without: [],
      slants: false,
      balance: { feet: 1, picking: 1, bar: 1, clarity: 1 },
    });
    for (const part of ['strings', 'top', 'bass', 'home', 'key'] as const)
      expect(read({})).not.toHaveProperty(part);
  });

  it('asks both necks of a double neck, and for slants where there are no pedals', () => {
    expect(read({}, builtIn('double')).necks).toEqual([1, 2]);
    expect(read({}, builtIn('lap6-c6')).slants).toBe(true);
  });

  it('is lean, and rootless for chords of five or more tones', () => {
    for (const chord of ['E', 'E7', 'Em7b5', 'E6']) expect(read({ chord }).match).toBe('lean');
    for (const chord of ['E9', 'E13', 'E6/9', 'Emaj9'])
      expect(read({ chord }).match).toBe('rootless');
  });

  it('takes a part left empty as left out', () => {
    const empty = Object.fromEntries(QUESTION_PARTS.map((part) => [part, ' '])) as QuestionTexts;
    expect(read({ ...empty, chord: 'E' })).toEqual(read({}));
  });
});

describe('each part is read', () => {
  it.each<[QuestionPart, string, Partial<Question>]>([
    ['frets', '0-12', { frets: [0, 12] }],
    ['frets', ' 3 – 7 ', { frets: [3, 7] }],
    ['frets', '5', { frets: [5, 5] }],
    ['frets', '24', { frets: [24, 24] }],
    ['sizes', '3', { sizes: [3, 3] }],
    ['sizes', '2-6', { sizes: [2, 6] }],
    ['sizes', '1', { sizes: [1, 1] }],
    ['match', 'complete', { match: 'complete' }],
    ['match', 'partial', { match: 'lean' }],
    // what was said before goes on being read
    ['match', 'lean', { match: 'lean' }],
    ['match', 'rootless', { match: 'rootless' }],
    ['grip', '3,4,5', { strings: [3, 4, 5], sizes: [3, 3] }],
    ['grip', '10, 8 ,6', { strings: [6, 8, 10] }],
    ['grip', '1,2', { strings: [1, 2], sizes: [2, 2] }],
    ['grip', '1,2,3,4,5', { strings: [1, 2, 3, 4, 5], sizes: [3, 5] }],
    // C4 = MIDI 60, E any octave = pitch class 4
    ['top', 'C4', { top: { midi: 60 } }],
    ['top', 'E', { top: { chroma: 4 } }],
    ['top', 'B♭', { top: { chroma: 10 } }],
    ['bass', 'E2', { bass: { midi: 40 } }],
    ['bass', 'Gb', { bass: { chroma: 6 } }],
    ['without', 'A', { without: ['A'] }],
    ['without', 'A, RKL,LKV', { without: ['A', 'RKL', 'LKV'] }],
    ['home', '0', { home: 0 }],
    ['home', '24', { home: 24 }],
    ['slants', 'on', { slants: true }],
    ['slants', 'off', { slants: false }],
    ['balance', 'feet=2,bar=0.5', { balance: { feet: 2, picking: 1, bar: 0.5, clarity: 1 } }],
    ['balance', 'picking=0', { balance: { feet: 1, picking: 0, bar: 1, clarity: 1 } }],
    ['balance', 'clarity=0.5', { balance: { feet: 1, picking: 1, bar: 1, clarity: 0.5 } }],
    ['balance', 'bar=10', { balance: { feet: 1, picking: 1, bar: 10, clarity: 1 } }],
    ['neck', '1', { necks: [1] }],
  ])('%s “%s”', (part, text, expected) => {
    expect(read({ [part]: text })).toMatchObject(expected);
  });

  it('a neck by its number', () => {
    expect(read({ neck: '2' }, builtIn('double')).necks).toEqual([2]);
  });

  it('sizes hold against a grip, where both are given', () => {
    expect(read({ grip: '3,4,5,6', sizes: '2' })).toMatchObject({
      strings: [3, 4, 5, 6],
      sizes: [2, 2],
    });
  });

  it('a key, major or minor', () => {
    expect(read({ key: 'Eb' }).key).toBeDefined();
    expect(read({ key: 'F#m' }).key).toBeDefined();
    expect(read({ key: 'Eb' }).key).not.toEqual(read({ key: 'Ebm' }).key);
  });

  it('a balance back into the text that says it', () => {
    for (const text of ['', 'feet=2', 'feet=2,bar=0.5', 'feet=0,picking=10,bar=1.5'])
      expect(balanceText(read({ balance: text }).balance)).toBe(text);
  });
});

describe('a part that cannot be read is refused under its name', () => {
  it.each<[QuestionPart, string, RegExp]>([
    ['chord', '', /chord/],
    ['chord', 'H7', /German.*B7/],
    ['chord', 'Cmaj7foo', /not understood/],
    ['chord', 'N.C.', /a chord to look for/],
    ['key', 'H', /key/],
    ['neck', '0', /1/],
    ['neck', '2', /1/],
    ['neck', 'first', /neck/],
    ['frets', '25', /0-24/],
    ['frets', '7-3', /0-24/],
    ['frets', '0-25', /0-24/],
    ['frets', '-1', /0-24/],
    ['frets', '1.5', /0-24/],
    ['frets', 'low', /0-24/],
    ['frets', '3-', /0-24/],
    ['sizes', '0', /1-6/],
    ['sizes', '7', /1-6/],
    ['sizes', '4-3', /1-6/],
    ['match', 'Complete', /complete, partial, rootless/],
    ['match', 'full', /complete, partial, rootless/],
    ['grip', '11', /1-10/],
    ['grip', '0,1', /1-10/],
    ['grip', '3,3', /each once/],
    ['grip', '3-5', /strings/],
    ['grip', ',', /strings/],
    ['top', 'H4', /note/],
    ['top', 'E44', /note/],
    ['bass', 'low', /note/],
    ['without', 'X', /A, B, C, LKL/],
    ['without', 'A,X', /A, B, C, LKL/],
    ['without', 'a', /A, B, C, LKL/],
    ['home', '25', /0 to 24/],
    ['home', '-1', /0 to 24/],
    ['home', '3-4', /fret/],
    ['slants', 'yes', /on or off/],
    ['slants', 'toString', /on or off/],
    ['balance', 'feet=11', /0 to 10/],
    ['balance', 'feet=-1', /0 to 10/],
    ['balance', 'hands=1', /feet, picking, bar, clarity/],
    ['balance', 'feet', /feet, picking, bar, clarity/],
  ])('%s “%s”', (part, text, allowed) => {
    const [fault, ...more] = faults({ [part]: text });
    expect(more).toEqual([]);
    expect(fault?.path).toBe(part);
    expect(fault?.allowed).toMatch(allowed);
    // what cannot be read is said again; of a chord the piece that is not understood
    const said = fault?.found.replace(/[“”]/g, '').split(',')[0] ?? '?';
    expect(text).toContain(said);
  });

  it('without controls there is nothing to leave out, and that is said', () => {
    const [fault] = faults({ without: 'A' }, builtIn('lap6-c6'));
    expect(fault?.path).toBe('without');
    expect(fault?.allowed).toMatch(/no controls/);
  });

  it('strings are held against the neck that is asked, or the longest', () => {
    expect(faults({ grip: '10', sizes: '2' }, builtIn('double'))).toEqual([]);
    expect(faults({ grip: '8' }, builtIn('lap6-c6')).map(({ path }) => path)).toEqual(['grip']);
  });

  it('every fault is told, not the first alone', () => {
    const bad: QuestionTexts = {
      chord: 'H',
      key: 'X',
      neck: '9',
      frets: '99',
      sizes: '9',
      match: 'no',
      grip: '99',
      top: '?',
      bass: '?',
      without: '?',
      home: '99',
      slants: '?',
      balance: '?',
    };
    expect(
      faults(bad)
        .map(({ path }) => path)
        .sort(),
    ).toEqual([...QUESTION_PARTS].sort());
  });
});

describe('controls as a player names them', () => {
  const engaged = (text: string, setup = E9) => {
    const result = readEngaged(setup, text);
    return result.ok ? result.value.map(({ id, state }) => `${id} ${state}`) : result.error;
  };

  it.each([
    ['', []],
    ['A', ['A full']],
    ['A,RKR:half', ['A full', 'RKR half']],
    // in the order of the setup, so that one hold is one text
    [' RKR:full , B ', ['B full', 'RKR full']],
  ])('“%s”', (text, expected) => {
    expect(engaged(text)).toEqual(expected);
  });

  it.each([
    ['X', /X/, /A, B, C/],
    ['a', /a/, /A, B, C/],
    ['A:half', /A:half/, /no half-stop/],
    ['RKR:third', /RKR:third/, /RKR/],
    ['A,B,A', /A twice/, /once/],
    ['RKR,RKR:half', /RKR twice/, /once/],
  ])('“%s” is refused', (text, found, allowed) => {
    const fault = engaged(text);
    expect(fault).toMatchObject({ path: 'controls' });
    expect((fault as { found: string }).found).toMatch(found);
    expect((fault as { allowed: string }).allowed).toMatch(allowed);
  });

  it('a setup without controls says so', () => {
    const fault = engaged('A', builtIn('lap6-c6'));
    expect((fault as { allowed: string }).allowed).toMatch(/no controls/);
  });

  it('an id that ends in “:half” is that control', () => {
    const [first, ...rest] = E9.controls;
    const odd = { ...E9, controls: first ? [{ ...first, id: 'X:half' }, ...rest] : [] };
    expect(engaged('X:half', odd)).toEqual(['X:half full']);
  });
});
