/**
 * Documents that are made to hurt: each is refused with few words. What a setup may have at most is
 * in the bounds of the format: 14 strings a neck, 20 controls, 42 pulls in each.
 */
import { describe, expect, it } from 'vitest';
import type { Fault } from '$lib/result';
import { faultText } from '$lib/faults';
import { readSetupText } from '$lib/setup/readSetup';

const many = (what: string, count = 600_000): string => Array(count).fill(what).join();
const neck = (strings: string): string => `[{"name":"n","strings":${strings}}]`;
const file = (parts: Record<string, string>): string =>
  `{${Object.entries({
    format: '1',
    name: '"x"',
    necks: neck('[{"open":"C4"}]'),
    controls: '[]',
    ...parts,
  })
    .map(([key, value]) => `"${key}":${value}`)
    .join()}}`;

function faultsOf(text: string): readonly Fault[] {
  const read = readSetupText(text);
  return read.ok ? [] : read.error;
}

describe('a document with far too much in it is one fault with its place', () => {
  it.each([
    [
      'a million strings',
      file({ necks: neck(`[${many('1', 900_000)}]`) }),
      'necks[0].strings',
      '900000',
    ],
    [
      'strings without anything',
      file({ necks: neck(`[${many('{}')}]`) }),
      'necks[0].strings',
      '600000',
    ],
    ['lists for strings', file({ necks: neck(`[${many('[]')}]`) }), 'necks[0].strings', '600000'],
    ['necks', file({ necks: `[${many('{}')}]` }), 'necks', '600000'],
    ['controls', file({ controls: `[${many('{}')}]` }), 'controls', '600000'],
    [
      'pulls',
      file({ controls: `[{"id":"A","station":"P1","pulls":[${many('{}')}]}]` }),
      'controls[0].pulls',
      '600000',
    ],
    [
      'unknown keys',
      file({ reach: `{${Array.from({ length: 100_000 }, (_, n) => `"k${n}":1`).join()}}` }),
      'reach',
      '100000 keys',
    ],
  ])('%s', (_what, text, path, found) => {
    const faults = faultsOf(text);
    expect(faults.map((fault) => fault.path)).toEqual([path]);
    expect(faults[0]?.found).toContain(found);
  });

  it('a thousand necks of six hundred strings', () => {
    const faults = faultsOf(
      file({ necks: `[${many(neck(`[${many('{}', 600)}]`).slice(1, -1), 1000)}]` }),
    );
    expect(faults).toHaveLength(1);
  });
});

describe('a document that is nested very deep is refused', () => {
  it.each([
    ['lists', '['.repeat(900_000) + ']'.repeat(900_000)],
    ['objects', '{"a":'.repeat(300_000) + '1' + '}'.repeat(300_000)],
    ['lists where a name should be', file({ name: '['.repeat(900_000) + ']'.repeat(900_000) })],
    [
      'strings within strings',
      file({ necks: neck('{"strings":['.repeat(100_000) + ']}'.repeat(100_000)) }),
    ],
    ['lists that are never closed', '['.repeat(1_900_000)],
  ])('%s', (_what, text) => {
    const faults = faultsOf(text);
    expect(faults.length).toBeGreaterThan(0);
    expect(faults.map(faultText).join(' ').length).toBeLessThan(1000);
  });
});

describe('keys that mean something to the language mean nothing to the reader', () => {
  it.each(['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty'])('%s', (key) => {
    const wanted = [
      `${key}`,
      `necks[0].${key}`,
      `necks[0].strings[0].${key}`,
      `controls[0].${key}`,
    ];
    const document = `{"format":1,"name":"x","${key}":{"name":"evil"},
      "necks":[{"name":"n","${key}":{},"strings":[{"open":"C4","${key}":{"gauge":0.01}}]}],
      "controls":[{"id":"A","station":"P1","pulls":[],"${key}":[1]}]}`;
    expect(
      faultsOf(document)
        .map(({ path }) => path)
        .sort(),
    ).toEqual([...wanted].sort());
    expect(({} as Record<string, unknown>)['name']).toBeUndefined();
    expect(({} as Record<string, unknown>)['gauge']).toBeUndefined();
  });

  it.each(['__proto__', 'toString'])('and %s may be the id of a control', (id) => {
    const short = id.slice(0, 8);
    const read = readSetupText(file({ controls: `[{"id":"${short}","station":"P1","pulls":[]}]` }));
    expect(read.ok && read.value.controls[0]?.id).toBe(short);
  });
});

describe('a value of the wrong type is a fault at every place', () => {
  const good = {
    format: 1,
    name: 'x',
    notes: 'n',
    frets: 24,
    scaleLengthMm: 610,
    referenceHz: 440,
    reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
    necks: [
      {
        name: 'n',
        notes: '',
        strings: [{ open: 'C4', gauge: 0.01, wound: false, cents: 0, notes: '' }],
      },
    ],
    controls: [
      {
        id: 'A',
        station: 'P1',
        notes: '',
        pulls: [{ neck: 1, string: 1, semitones: 2, half: 1, cents: 0 }],
      },
    ],
  };
  const places = [
    'format',
    'name',
    'notes',
    'frets',
    'scaleLengthMm',
    'referenceHz',
    'reach',
    'reach.pedalsAtOnce',
    'reach.kneeUpWithSideways',
    'necks',
    'necks[0]',
    'necks[0].name',
    'necks[0].notes',
    'necks[0].strings',
    'necks[0].strings[0]',
    'necks[0].strings[0].open',
    'necks[0].strings[0].gauge',
    'necks[0].strings[0].wound',
    'necks[0].strings[0].cents',
    'controls',
    'controls[0]',
    'controls[0].id',
    'controls[0].station',
    'controls[0].pulls',
    'controls[0].pulls[0]',
    'controls[0].pulls[0].neck',
    'controls[0].pulls[0].string',
    'controls[0].pulls[0].semitones',
    'controls[0].pulls[0].half',
    'controls[0].pulls[0].cents',
  ];
  const wrong = [null, true, 1e9, -0.5, '', 'text', [], {}, [[]], { a: 1 }];

  /** JSON with one place changed. */
  function changed(path: string, put: unknown): string {
    const document = structuredClone(good) as unknown as Record<string, unknown>;
    const keys = path.split(/[.[\]]+/).filter((key) => key !== '');
    let at = document;
    for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
    at[keys.at(-1) ?? ''] = put;
    return JSON.stringify(document);
  }
  /** Some of the odd values are right in some places. */
  const RIGHT: Readonly<Record<string, readonly unknown[]>> = {
    notes: ['', 'text'],
    'necks[0].notes': ['', 'text'],
    name: ['text'],
    'necks[0].name': ['text'],
    'controls[0].id': ['text'],
    'reach.kneeUpWithSideways': [true],
    'necks[0].strings[0].wound': [true],
    'necks[0].strings[0].cents': [-0.5],
    'controls[0].pulls[0].cents': [-0.5],
  };

  it('that can be read', () => {
    expect(readSetupText(JSON.stringify(good)).ok).toBe(true);
  });

  it.each(places)('%s', (path) => {
    for (const put of wrong) {
      const text = changed(path, put);
      const paths = faultsOf(text).map((fault) => fault.path);
      const fine =
        RIGHT[path]?.includes(put) === true ||
        (Array.isArray(put) && put.length === 0 && /^controls(\[0\]\.pulls)?$/.test(path)) ||
        (path === 'reach' && JSON.stringify(put) === '{}');
      if (fine) expect(paths, text).toEqual([]);
      else
        expect(
          paths.some(
            (each) => each === path || each.startsWith(`${path}.`) || each.startsWith(`${path}[`),
          ),
          text,
        ).toBe(true);
    }
  });
});
