/**
 * How long strings ring: Stokes' law for a cylinder that swings in air, the wire's own loss, and the ends,
 * worked out by hand for one string; for the rest the order of things that every player knows.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { fallOf, fallSeconds, usualFall, withFalls } from '$lib/strings/sustain';

describe('a string', () => {
  it('falls by 60 dB in the time that its three losses leave', () => {
    // .011 inch is 0.2794 mm: μ = 7850 · π/4 · 0.0002794² = 4.813e-4 kg/m. At 415.3 Hz
    // R = 2π · 1.8e-5 + 2π · 0.0002794 · √(π · 1.8e-5 · 1.2 · 415.3) = 1.131e-4 + 2.947e-4 = 4.078e-4;
    // losses a second: R/2μ = 0.4237, π · 415.3 · 2e-4 = 0.2609, 6.908/40 = 0.1727; 6.908/0.8573 = 8.06 s
    const plain = { diameterMm: 0.2794, massPerM: 4.813e-4, make: 'plain' } as const;
    expect(fallSeconds(plain, 415.3)).toBeCloseTo(8.06, 2);
  });

  it('of a setup is its wire at the pitch where it is stopped', () => {
    const e9 = builtIn('e9');
    expect(fallOf(e9, 1, 3, 68)).toBeCloseTo(8.06, 1);
    // the same pitch on a heavier string rings longer: string 5 at fret 9 against string 3 open
    expect(fallOf(e9, 1, 5, 68)).toBeGreaterThan(fallOf(e9, 1, 3, 68));
    expect(withFalls(e9, 1, [{ string: 3, midi: 68, more: 1 }])).toEqual([
      { string: 3, midi: 68, more: 1, falls: fallOf(e9, 1, 3, 68) },
    ]);
  });

  it.each(BUILT_IN_IDS)('rings the shorter the higher it is stopped, %s', (id) => {
    const setup = builtIn(id);
    setup.necks.forEach(({ strings }, neck) => {
      strings.forEach(({ open }, at) => {
        const falls = [0, 5, 12, 24].map((fret) =>
          fallOf(setup, neck + 1, at + 1, open.midi + fret),
        );
        expect(falls).toEqual([...falls].sort((a, b) => b - a));
        // from memory: solid-body instruments, open strings
        expect(falls[0]).toBeGreaterThan(7.5);
        expect(falls[0]).toBeLessThan(30);
      });
    });
  });

  it('without a gauge is taken as usual for its pitch', () => {
    const e9 = builtIn('e9');
    const [neck] = e9.necks;
    if (neck === undefined) throw new Error('no neck');
    const strings = neck.strings.map(({ open }) => ({ open }));
    const untold = { ...e9, necks: [{ ...neck, strings }] };
    neck.strings.forEach(({ open }, at) => {
      const ratio = fallOf(untold, 1, at + 1, open.midi) / fallOf(e9, 1, at + 1, open.midi);
      expect(ratio).toBeGreaterThan(0.7);
      expect(ratio).toBeLessThan(1.4);
    });
    expect(usualFall(110)).toBeGreaterThan(usualFall(440));
  });
});

it('the table for those who work on it says what is computed', () => {
  const guide = readFileSync(new URL('../../../DEVELOPERS.md', import.meta.url), 'utf8');
  const e9 = builtIn('e9');
  for (const [name, fret] of [
    ['open', 0],
    ['fret 3', 3],
    ['fret 8', 8],
    ['fret 12', 12],
  ] as const) {
    const row = new RegExp(`^\\| ${name} +\\|(.*)\\|$`, 'mu').exec(guide)?.[1] ?? '';
    const falls = e9.necks[0]?.strings.map(({ open }, at) =>
      fallOf(e9, 1, at + 1, open.midi + fret).toFixed(1),
    );
    expect(row.split('|').map((cell) => cell.trim())).toEqual(falls);
  }
});
