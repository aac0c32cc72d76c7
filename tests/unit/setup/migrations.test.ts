import { describe, expect, it } from 'vitest';
import { migrate, type Step } from '$lib/setup/migrations';
import { readSetup } from '$lib/setup/readSetup';

/** Two made-up steps: format 1 said `title`, format 2 counted `frets` as text. */
const STEPS = new Map<number, Step>([
  [1, ({ title, ...rest }) => ({ ...rest, name: title, format: 2 })],
  [2, (file) => ({ ...file, frets: Number(file['frets']), format: 3 })],
]);

describe('a file of an older format', () => {
  it('is brought to the present one step by step', () => {
    const old = { format: 1, title: 'old', frets: '24' };
    expect(migrate(old, STEPS, 3)).toEqual({
      ok: true,
      value: { format: 3, name: 'old', frets: 24 },
    });
    expect(migrate({ format: 2, name: 'newer', frets: '12' }, STEPS, 3)).toEqual({
      ok: true,
      value: { format: 3, name: 'newer', frets: 12 },
    });
  });

  it('is itself left as it was', () => {
    const old = Object.freeze({ format: 1, title: 'old', frets: '24' });
    migrate(old, STEPS, 3);
    expect(old).toEqual({ format: 1, title: 'old', frets: '24' });
  });

  it('of the present format is not changed at all', () => {
    const present = { format: 3, name: 'now', frets: 24 };
    expect(migrate(present, STEPS, 3)).toEqual({ ok: true, value: present });
  });
});

describe('a file of a newer format', () => {
  it.each([4, 7, 1e9])('number %d is refused with that said, and nothing else is', (format) => {
    const read = readSetup({ format, name: 5, unheard: 'of', necks: 'no' });
    expect(read.ok).toBe(false);
    const faults = read.ok ? [] : read.error;
    expect(faults.map(({ path }) => path)).toEqual(['format']);
    expect(faults[0]?.found).toContain(`${format}`);
    expect(faults[0]?.found).toContain('newer');
  });

  it.each([[0], [-1], [0.5], [null], [true], ['2'], [[1]]])(
    'is not what the format %j is: that is refused as no format',
    (format) => {
      const document = { format, name: 'x', necks: [], controls: [] };
      const read = readSetup(document);
      const faults = read.ok ? [] : read.error;
      expect(faults.map(({ path }) => path)).toContain('format');
      expect(faults.map(({ found }) => found).join()).not.toContain('newer');
    },
  );
});

describe('a refused file', () => {
  it('changes nothing: neither itself nor a setup that was read before', () => {
    const good = {
      format: 1,
      name: 'kept',
      necks: [{ name: 'n', strings: [{ open: 'C4' }] }],
      controls: [],
    };
    const kept = readSetup(good);
    const before = JSON.stringify(kept);
    const bad = { ...good, frets: 99, necks: [{ name: 'n', strings: [{ open: 'H' }], odd: 1 }] };
    const badBefore = JSON.stringify(bad);
    expect(readSetup(bad).ok).toBe(false);
    expect(JSON.stringify(bad)).toBe(badBefore);
    expect(JSON.stringify(kept)).toBe(before);
    expect(JSON.stringify(readSetup(good))).toBe(before);
  });
});
