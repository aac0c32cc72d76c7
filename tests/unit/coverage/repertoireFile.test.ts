import { describe, expect, it } from 'vitest';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { toJsonSchema } from '@valibot/to-json-schema';
import { EVERYDAY_REPERTOIRE, readType, repertoireOf } from '$lib/theory/repertoire';
import {
  RepertoireShape,
  readRepertoire,
  readRepertoireFile,
  readRepertoireText,
  repertoireFile,
  repertoireText,
} from '$lib/coverage/repertoireFile';

const file = (types: unknown, more: object = {}) => ({ format: 1, types, ...more });
const bySchema = new Ajv2020({ strict: true }).compile(
  toJsonSchema(RepertoireShape, { typeMode: 'input', target: 'draft-2020-12' }) as object,
);

describe('a repertoire file', () => {
  it('is read with its types in any of the usual spellings', () => {
    const read = readRepertoire(
      file(
        [
          { type: 'maj', weight: 4 },
          { type: '-7', weight: 2.5 },
          { type: 'Δ7', weight: 1 },
          { type: 'ø', weight: 0.5 },
        ],
        { name: 'Sunday' },
      ),
    );
    expect(read).toEqual({
      ok: true,
      value: [
        { type: '', weight: 4 },
        { type: 'm7', weight: 2.5 },
        { type: 'maj7', weight: 1 },
        { type: 'm7b5', weight: 0.5 },
      ],
    });
  });

  it('comes back from its own text, long and short', () => {
    expect(readRepertoireFile(repertoireFile(EVERYDAY_REPERTOIRE))).toEqual({
      ok: true,
      value: EVERYDAY_REPERTOIRE,
    });
    expect(readRepertoireText(repertoireText(EVERYDAY_REPERTOIRE))).toEqual({
      ok: true,
      value: EVERYDAY_REPERTOIRE,
    });
    expect(repertoireText([{ type: '', weight: 60 }])).toBe('maj:60');
  });

  const M7 = { type: 'm7', weight: 1 };
  it.each([
    ['no types', file([]), ['types']],
    ['sixty-one types', file(Array.from({ length: 61 }, () => M7)), ['types']],
    ['a weight of nought', file([{ type: 'm', weight: 0 }]), ['types[0].weight']],
    ['a weight beyond all bounds', file([{ type: 'm', weight: 2e9 }]), ['types[0].weight']],
    ['a weight as text', file([{ type: 'm', weight: '3' }]), ['types[0].weight']],
    ['no weight', file([{ type: 'm' }]), ['types[0].weight']],
    ['an entry that is no object', file([3]), ['types[0]']],
    ['another format', { format: 2, types: [M7] }, ['format']],
    ['no format', { types: [M7] }, ['format']],
    ['an empty name', file([M7], { name: '' }), ['name']],
    ['a list', [M7], ['']],
  ])('is refused with %s, and the schema refuses it too', (_, document, paths) => {
    const read = readRepertoire(document);
    expect(read.ok ? [] : read.error.map(({ path }) => path)).toEqual(
      expect.arrayContaining(paths),
    );
    expect(bySchema(document)).toBe(false);
  });

  it.each([
    ['a type that is none', file([{ type: 'zz', weight: 1 }]), ['types[0].type']],
    ['a sign that would belong to the root', file([{ type: 'b9', weight: 1 }]), ['types[0].type']],
    ['a type over a bass', file([{ type: 'm/E', weight: 1 }]), ['types[0].type']],
    ['one type twice', file([M7, { type: '-7', weight: 2 }]), ['types[1].type']],
  ])('is refused with %s', (_, document, paths) => {
    const read = readRepertoire(document);
    expect(read.ok ? [] : read.error.map(({ path }) => path)).toEqual(paths);
  });

  it('tells every unknown key by name, and every other fault with them', () => {
    const read = readRepertoire(
      file([{ type: 'm', weight: 1, often: true, why: '' }], { sort: 1, colour: 2 }),
    );
    expect(read.ok ? [] : read.error.map(({ path, found }) => `${path}: ${found}`)).toEqual([
      'sort: the key “sort”',
      'colour: the key “colour”',
      'types[0].often: the key “often”',
      'types[0].why: the key “why”',
    ]);
  });

  it.each([
    ['{', /not JSON/],
    [' '.repeat(100_001), /100001 characters/],
  ])('that is no document at all is refused', (text, what) => {
    const read = readRepertoireFile(text);
    expect(read.ok ? '' : read.error[0]?.found).toMatch(what);
  });
});

describe('a repertoire from a progression', () => {
  it('counts each type as often as it occurs, most used first', () => {
    const symbols = '| C Am7 Dm7 G7 | C % N.C. - C/E |'.split(' ');
    expect(repertoireOf(symbols)).toEqual({
      repertoire: [
        { type: '', weight: 3 },
        { type: 'm7', weight: 2 },
        { type: '7', weight: 1 },
      ],
      unread: [],
    });
  });

  it('tells what it cannot read', () => {
    const { repertoire, unread } = repertoireOf(['C', 'H7', 'Gzz']);
    expect(repertoire).toEqual([{ type: '', weight: 1 }]);
    expect(unread.map(({ text }) => text)).toEqual(['H7', 'Gzz']);
  });
});

it.each([
  ['', ''],
  ['maj', ''],
  [' m7 ', 'm7'],
  ['°7', 'dim7'],
  ['N.C.', undefined],
  ['#9', undefined],
])('the type “%s” is read as “%s”', (text, type) => {
  expect(readType(text)).toBe(type);
});
