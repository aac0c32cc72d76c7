import { expect, test } from 'vitest';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';

test('every type of the everyday repertoire is a chord type, once, with a weight', () => {
  const types = EVERYDAY_REPERTOIRE.map(({ type }) => type);
  expect(new Set(types).size).toBe(types.length);
  for (const { type, weight } of EVERYDAY_REPERTOIRE) {
    expect(typeWithSuffix(type), type).toBeDefined();
    expect(weight, type).toBeGreaterThan(0);
  }
});
