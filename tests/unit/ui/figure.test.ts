import fc from 'fast-check';
import { expect, test } from 'vitest';
import { figure } from '$lib/ui/parts/figure';

test('a whole number is grouped as the language’s own formatter groups it', () => {
  const formatter = new Intl.NumberFormat('en');
  fc.assert(
    fc.property(fc.maxSafeInteger(), (count) => {
      expect(figure(count)).toBe(formatter.format(count));
    }),
  );
  expect([0, 999, 1000, 65925, 1234567].map(figure)).toEqual([
    '0',
    '999',
    '1,000',
    '65,925',
    '1,234,567',
  ]);
});
