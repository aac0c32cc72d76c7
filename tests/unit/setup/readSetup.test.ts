import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { faultText, type DocumentFault } from '$lib/faults';
import { MOST_CHARACTERS, readSetup, readSetupText } from '$lib/setup/readSetup';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { BROKEN } from './invalidSetups';

const FOLDER = inRoot('shared/setups/invalid');
const textOf = (file: string): string => readFileSync(`${FOLDER}/${file}.json`, 'utf8');

const faultsIn = (text: string): readonly DocumentFault[] => {
  const read = readSetupText(text);
  return read.ok ? [] : read.error;
};

/** The smallest setup that model, section 1 allows. */
const SMALLEST = {
  format: 1,
  name: 'one string',
  necks: [{ name: 'one', strings: [{ open: 'C4' }] }],
  controls: [],
};
const textWith = (piece: string): string => JSON.stringify(SMALLEST).replace('{', `{${piece},`);

describe('a setup file that breaks a rule', () => {
  it('has an example for every rule, and every example is told about', () => {
    const files = readdirSync(FOLDER).map((name) => name.replace(/\.json$/, ''));
    expect(BROKEN.map(({ file }) => file).sort()).toEqual(files.sort());
  });

  it.each(BROKEN)('$file is refused with the place and what is wrong', (broken) => {
    const { file, paths, codes, word } = broken;
    const faults = faultsIn(textOf(file));
    expect(Object.fromEntries(faults.map(({ path, code }) => [path, code]))).toEqual(
      Object.fromEntries(paths.map((path, index) => [path, codes[index]])),
    );
    expect(faults).toHaveLength(paths.length);
    expect(faults.map(({ found, allowed }) => `${found} / ${allowed}`).join('\n')).toContain(word);
  });

  it('is told place, find and allowed in a sentence for every fault', () => {
    for (const { file } of BROKEN)
      for (const fault of faultsIn(textOf(file))) {
        expect(fault.found, file).not.toBe('');
        expect(fault.allowed, file).not.toBe('');
        const sentence = faultText(fault);
        for (const piece of [fault.path, fault.found, fault.allowed])
          expect(sentence).toContain(piece);
      }
  });

  it('never counts “1 to 1” or “1 to 0” choices', () => {
    for (const { file } of BROKEN)
      for (const { allowed } of faultsIn(textOf(file)))
        expect(allowed, file).not.toMatch(/(?<![-\d])(-?\d+) to \1(?!\d)|\b1 to 0\b/);
  });
});

describe('a setup file that keeps the rules', () => {
  it('may leave out all that is optional, and then means the defaults', () => {
    // format 1 as model, section 1 shows it: 24 frets, 610 mm, 440 Hz; two pedals (section 3)
    const read = readSetup(SMALLEST);
    expect(read.ok && read.value).toMatchObject({
      frets: 24,
      scaleLengthMm: 610,
      referenceHz: 440,
      reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
    });
  });

  it('may name any part of reach, and leave out the other', () => {
    const reachOf = (reach: object) => {
      const read = readSetup({ ...SMALLEST, reach });
      return read.ok ? read.value.reach : undefined;
    };
    expect(reachOf({ pedalsAtOnce: 4 })).toEqual({ pedalsAtOnce: 4, kneeUpWithSideways: false });
    expect(reachOf({ kneeUpWithSideways: true })).toEqual({
      pedalsAtOnce: 2,
      kneeUpWithSideways: true,
    });
  });

  it('may go to the bounds of every rule', () => {
    const strings = Array.from({ length: 14 }, () => ({ open: 'Bbb3' }));
    const stations = [...Array.from({ length: 12 }, (_, p) => `P${p + 1}`)].concat(
      'LKL LKR LKV RKL RKR RKV'.split(' '),
    );
    const pulls = [
      { string: 14, semitones: -7, half: -6 },
      { neck: 3, string: 14, semitones: 7, half: 1 },
    ];
    const document = {
      format: 1,
      name: 'as much as there can be',
      frets: 36,
      necks: ['a', 'b', 'c'].map((name) => ({ name, strings })),
      controls: stations.map((station) => ({ id: `${station}......`.slice(0, 8), station, pulls })),
    };
    const read = readSetup(document);
    expect(read.ok ? [] : read.error).toEqual([]);
    expect(readSetup({ ...document, frets: 0 }).ok).toBe(true);
  });

  it.each([
    // C4 = middle C = MIDI 60 (model, section 1); the octave goes with the letter
    ['C4', 60],
    ['F#4', 66],
    ['B3', 59],
    ['Cb4', 59],
    ['B#3', 60],
    ['Ebb4', 62],
    ['F##3', 55],
    ['A♭2', 44],
    ['g♯4', 68],
    ['C0', 12],
    ['C8', 108],
  ])('reads the open string %s as MIDI %i', (open, midi) => {
    const read = readSetup({ ...SMALLEST, necks: [{ name: 'one', strings: [{ open }] }] });
    expect(read.ok && read.value.necks[0]?.strings[0]?.open.midi).toBe(midi);
  });

  it('means the first neck by a pull without one, and keeps notes, gauges and cents', () => {
    const string = {
      open: 'C4',
      gauge: 0.03,
      wound: true,
      coreGauge: 0.016,
      cents: -14,
      notes: 'n',
    };
    const pull = { string: 1, semitones: 2, half: 1, cents: 3.5, notes: 'p' };
    const read = readSetup({
      ...SMALLEST,
      notes: 'mine',
      necks: [{ name: 'one', strings: [string], notes: 'k' }],
      controls: [{ id: 'A', station: 'P1', pulls: [pull], notes: 'c' }],
    });
    expect(read.ok && read.value).toMatchObject({
      notes: 'mine',
      necks: [{ notes: 'k', strings: [{ ...string, open: { midi: 60 } }] }],
      controls: [{ notes: 'c', pulls: [{ neck: 1, ...pull }] }],
    });
  });
});

describe('text that is no setup at all', () => {
  it.each([
    ['', 'not JSON'],
    ['E9 with three and five', 'not JSON'],
    ['{"format": 1,}', 'not JSON'],
    ['[1, 2]', 'a list of 2'],
    ['null', 'null'],
    ['7', '7'],
    ['"E9"', '“E9”'],
  ])('%j is refused as a whole', (text, word) => {
    const [fault, ...more] = faultsIn(text);
    expect(more).toEqual([]);
    expect(fault?.path).toBe('');
    expect(fault?.found).toContain(word);
    expect(fault?.allowed).toContain('JSON object');
  });

  it('is refused unread where it is huge', () => {
    const [fault] = faultsIn(' '.repeat(MOST_CHARACTERS) + JSON.stringify(SMALLEST));
    expect(fault?.path).toBe('');
    expect(fault?.found).toMatch(/\d+ characters/);
    // far more than the largest setup: 3 necks of 14 strings, 20 controls of 42 pulls
    expect(MOST_CHARACTERS).toBeGreaterThan((3 * 14 + 20 * 42) * 200);
  });

  it('may begin with a byte order mark, as some editors write it', () => {
    expect(readSetupText(`\uFEFF${JSON.stringify(SMALLEST)}`).ok).toBe(true);
  });

  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])(
    'refuses the key %s by name and is not harmed',
    (key) => {
      const faults = faultsIn(textWith(`"${key}": {"frets": 99, "polluted": true}`));
      expect(faults.map(({ path }) => path)).toEqual([key]);
      expect(faults[0]?.found).toContain(key);
      expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
      expect(readSetup(SMALLEST)).toMatchObject({ ok: true, value: { frets: 24 } });
    },
  );

  it('does not find missing keys in a prototype', () => {
    const faults = faultsIn(
      '{"__proto__": {"format": 1, "name": "x", "necks": [], "controls": []}}',
    );
    expect(faults.map(({ path }) => path).sort()).toEqual(
      ['__proto__', 'controls', 'format', 'name', 'necks'].sort(),
    );
  });
});

it('twenty thousand pulls in one control are told as a list that is too long, not one by one', () => {
  // one pull a string and neck: at most 3 × 14 in a control
  const pulls = Array.from({ length: 20_000 }, () => ({ string: 1, semitones: 1 }));
  const read = readSetup({ ...SMALLEST, controls: [{ id: 'A', station: 'P1', pulls }] });
  const faults = read.ok ? [] : read.error;
  expect(faults.find(({ path }) => path === 'controls[0].pulls')?.allowed).toContain('42');
  expect(faults.length).toBeLessThanOrEqual(1 + 42);
});
