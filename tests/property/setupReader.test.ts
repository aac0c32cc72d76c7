import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSetup, readSetupText } from '$lib/setup/readSetup';
import { runs } from '../battery';
import { inRoot } from '../../scripts/lib/root.mjs';
import { setupDocument } from './generators';

const bySchema = new Ajv2020({ strict: true }).compile(
  JSON.parse(readFileSync(inRoot('shared/setup.schema.json'), 'utf8')) as object,
);

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Every place in a document, as the keys that lead there. */
function placesIn(value: Json, path: readonly (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [[...path]];
  const inside = Object.entries(value).flatMap(([key, child]) =>
    placesIn(child, [...path, Array.isArray(value) ? Number(key) : key]),
  );
  return [[...path], ...inside];
}

/** The document with another value at a place. */
function withAt(value: Json, [key, ...rest]: readonly (string | number)[], put: Json): Json {
  if (key === undefined) return put;
  const copy = Array.isArray(value) ? [...value] : { ...(value as { [key: string]: Json }) };
  const at = copy as { [key: string]: Json };
  at[key] = withAt(at[key] ?? null, rest, put);
  return copy;
}

/** Whatever the document, it is read or refused with reasons; and what is read the schema accepts. */
function judge(document: Json): void {
  const read = readSetup(document);
  if (read.ok) expect(bySchema(document)).toBe(true);
  else {
    expect(read.error.length).toBeGreaterThan(0);
    const paths = read.error.map(({ path }) => path);
    expect(new Set(paths).size).toBe(paths.length);
  }
}

describe('the reader of setups has an answer to everything', () => {
  it('to any JSON at all', () => {
    fc.assert(fc.property(fc.jsonValue(), (value) => judge(value as Json)));
  });

  it('to any text at all', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readSetupText(text);
        expect(read.ok).toBe(false);
      }),
    );
  });

  it('to a good setup with something else at one place', () => {
    const odd = fc.oneof(
      fc.jsonValue(),
      fc.integer({ min: -20, max: 40 }),
      fc.constantFrom('', 'P1', 'LKL', 'C4', 'B#9', 'Cb0', null, [], {}, [null], 0.5, -0, 1e300),
      // an object that cannot become text
      fc.constantFrom({ toString: 0 }, { valueOf: null, toString: null }, { __proto__: null }),
    );
    fc.assert(
      fc.property(setupDocument, fc.nat(), odd, (document, pick, put) => {
        const places = placesIn(document);
        judge(withAt(document, places[pick % places.length] ?? [], put as Json));
      }),
      { numRuns: runs(1000) },
    );
  });
});
