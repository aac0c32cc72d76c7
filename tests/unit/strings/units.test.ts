/**
 * Conversions by hand from the exact definitions (NIST SP 811, appendix B.8): 1 lbf = 4.448 221 615 260 5 N,
 * 1 in = 25.4 mm.
 */
import { describe, expect, it } from 'vitest';
import { forceIn, forceText, lengthText, movedText, newtonsOf } from '$lib/strings/units';

describe('forces and lengths', () => {
  it('are told in the units that were chosen', () => {
    // 100 / 4.448 221 6 = 22.480 9
    expect([forceText(100, 'metric'), forceText(100, 'us')]).toEqual(['100 N', '22.5 lb']);
    // 609.6 / 25.4 = 24
    expect([lengthText(609.6, 'metric'), lengthText(609.6, 'us')]).toEqual([
      '609.6 mm',
      '24.000 in',
    ]);
  });

  it('are written over in the same units, and read back', () => {
    // 100 / 4.448 221 6 = 22.480 9; 22.5 · 4.448 221 6 = 100.085
    expect([forceIn(100.4, 'metric'), forceIn(100, 'us')]).toEqual([100, 22.5]);
    expect(newtonsOf(100, 'metric')).toBe(100);
    expect(newtonsOf(22.5, 'us')).toBeCloseTo(100.085, 3);
  });

  it('keep their sign where something moves, and an inch what millimetres tell', () => {
    // 0.61 / 25.4 = 0.024 016
    expect([movedText(0.61, 'metric', 2), movedText(-0.61, 'us', 2)]).toEqual([
      '+0.61 mm',
      '−0.0240 in',
    ]);
    expect(movedText(0, 'us', 2)).toBe('0.0000 in');
  });
});
