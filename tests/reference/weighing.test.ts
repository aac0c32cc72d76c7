/**
 * What the trade knows of its instruments' strengths: common practice, no published source. Each is a
 * consequence of the search, not a figure of it.
 */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { compare } from '$lib/coverage/compare';
import { LISTS } from '$lib/coverage/listNames';
import { coverageOf } from '$lib/coverage/coverage';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';

const without = (setup: Setup, id: string): Setup => ({
  ...setup,
  controls: setup.controls.filter((control) => control.id !== id),
});
const e9 = builtIn('e9');
const covered = (setup: Setup) =>
  new Map(coverageOf(setup, EVERYDAY_REPERTOIRE).types.map((type) => [type.type, type]));

describe('E9 without its C pedal', () => {
  const told = compare(e9, without(e9, 'C'), EVERYDAY_REPERTOIRE);

  it('has fewer minor chords, and nothing that E9 has not', () => {
    const minor = told.types.find(({ type }) => type === 'm');
    expect(minor?.b.voicings).toBeLessThan(minor?.a.voicings ?? 0);
    expect(minor?.b.places).toBeLessThan(minor?.a.places ?? 0);
    expect(told.onlyB.count).toBe(0);
    for (const { a, b } of told.types) expect(b.voicings).toBeLessThanOrEqual(a.voicings);
  });

  it('lists a minor chord of B and C among those that are lost or harder', () => {
    const entries = [told.onlyA, told.easierA].flatMap((list) =>
      list.entries(0, list.patterns, 'm'),
    );
    const ways = entries.flatMap(({ here }) =>
      here.voicing.ways.map((way) => way.map(({ id }) => id).join('+')),
    );
    expect(ways).toContain('B+C');
  });
});

describe('E9 and C6', () => {
  it('sixths, minor sevenths and ninths come easier on C6, major triads as easily on both', () => {
    const [e, c] = [covered(e9), covered(builtIn('c6'))];
    for (const type of ['6', 'm7', '9', 'm9', 'maj9']) {
      const [onE9, onC6] = [e.get(type)?.effort, c.get(type)?.effort];
      expect(onC6?.least, type).toBeLessThan(onE9?.least ?? 0);
      expect(onC6?.median, type).toBeLessThan(onE9?.median ?? 0);
    }
    expect([e.get('')?.effort.least, c.get('')?.effort.least]).toEqual([0, 0]);
  });

  it('a double neck covers what either of its necks covers', () => {
    const double = builtIn('double');
    const both = covered(double);
    double.necks.forEach((neck, index) => {
      const alone: Setup = {
        ...double,
        necks: [neck],
        controls: double.controls.map((control) => ({
          ...control,
          pulls: control.pulls
            .filter((pull) => pull.neck === index + 1)
            .map((pull) => ({ ...pull, neck: 1 })),
        })),
      };
      const told = compare(double, alone, EVERYDAY_REPERTOIRE);
      expect(told.onlyB.count).toBe(0);
      for (const { type, voicings } of covered(alone).values())
        expect(both.get(type)?.voicings).toBeGreaterThanOrEqual(voicings);
    });
  });
});

it('a setup compared with itself differs in nothing', () => {
  const told = compare(e9, builtIn('e9'), EVERYDAY_REPERTOIRE);
  expect(LISTS.map((list) => told[list].count)).toEqual([0, 0, 0, 0]);
});
