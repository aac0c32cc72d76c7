/**
 * Conversions by hand from the exact definitions (NIST SP 811, appendix B.8): 1 lbf = 4.448 221 615 260 5 N,
 * 1 in = 25.4 mm.
 */
import { describe, expect, it } from 'vitest';
import { fieldText, keptIn, keptText, unitSign } from '$lib/strings/fieldUnits';
import { forceText, lengthText, movedText } from '$lib/strings/units';

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
    expect(fieldText(100, 'force', 'us', 1)).toBe('22.5');
    expect(fieldText(89.854, 'force', 'metric', 1)).toBe('89.9');
    expect(keptIn(100, 'force', 'metric')).toBe(100);
    expect(keptIn(22.5, 'force', 'us')).toBeCloseTo(100.085, 3);
  });

  it('keep their sign where something moves, and an inch what millimetres tell', () => {
    // 0.61 / 25.4 = 0.024 016
    expect([movedText(0.61, 'metric', 2), movedText(-0.61, 'us', 2)]).toEqual([
      '+0.61 mm',
      '−0.0240 in',
    ]);
    expect(movedText(0, 'us', 2)).toBe('0.0000 in');
  });

  it('stand in fields in the unit that was chosen, and are kept in mm and N', () => {
    expect([unitSign('length', 'us'), unitSign('force', 'us')]).toEqual(['in', 'lb']);
    expect([unitSign('length', 'metric'), unitSign('force', 'metric')]).toEqual(['mm', 'N']);
    // 24.25 · 25.4 = 615.95; 4.5 · 4.448 221 615 = 20.016 997
    expect(keptText('24.25', 'length', 'us')).toBe('615.95');
    expect(keptText('24,25', 'length', 'us')).toBe('615.95');
    expect(Number(keptText('4.5', 'force', 'us'))).toBeCloseTo(20.016997, 5);
    expect(keptText('615.95', 'length', 'metric')).toBe('615.95');
    // 610 / 25.4 = 24.015 748
    expect(fieldText(610, 'length', 'us')).toBe('24.0157');
    expect(fieldText(610, 'length', 'metric')).toBe('610');
    expect(fieldText(undefined, 'force', 'us')).toBe('');
  });

  it('give a figure back as it was typed, and leave what is none to its reader', () => {
    for (const quantity of ['length', 'force'] as const)
      for (const typed of ['0.0625', '24.25', '7', '0.1', '12.3456', '101.9'])
        expect(fieldText(Number(keptText(typed, quantity, 'us')), quantity, 'us')).toBe(typed);
    for (const none of ['', 'wide', '3/4']) expect(keptText(none, 'length', 'us')).toBe(none);
  });
});
