import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hzOf, pitchText } from '$lib/theory/pitch';
import { BUILT_IN_IDS, builtIn, isBuiltInId, type BuiltInId } from '$lib/setup/builtIns';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { inRoot } from '../../../scripts/lib/root.mjs';

// Common practice of the trade, no published source: open strings (string 1 first), usual gauges,
// and what each control does, as "neck:string+semitones", "~" marking a half-stop.
const E9 = 'F#4 D#4 G#4 E4 B3 G#3 F#3 E3 D3 B2';
const E9_GAUGES = '.013 .015 .011 .014 .017 .020 .026w .030w .034w .036w';
const C6 = 'G4 E4 C4 A3 G3 E3 C3 A2 F2 C2';
const C6_GAUGES = '.012 .014 .017 .020 .024w .030w .036w .042w .054w .070w';

interface Facts {
  readonly necks: readonly string[];
  readonly gauges?: readonly string[];
  readonly controls: Readonly<Record<string, string>>;
}

const E9_ALONE = {
  A: 'P1 1:5+2 1:10+2',
  B: 'P2 1:3+1 1:6+1',
  C: 'P3 1:4+2 1:5+2',
  LKL: 'LKL 1:4+1 1:8+1',
  LKV: 'LKV 1:5-1 1:10-1',
  LKR: 'LKR 1:4-1 1:8-1',
  RKL: 'RKL 1:1+1 1:2+1 1:6-2',
  RKR: 'RKR 1:2-2~-1 1:9-1',
};
const C6_ALONE = {
  P4: 'P4 1:4+2 1:8+2',
  P5: 'P5 1:1-1 1:5-1 1:9+1 1:10+2',
  P6: 'P6 1:2+1 1:6-1',
  P7: 'P7 1:3+2 1:4+2',
  P8: 'P8 1:7+1 1:9-1 1:10-3',
  LKR: 'LKR 1:4+1',
  RKL: 'RKL 1:3-1',
  RKR: 'RKR 1:3+1',
};
const onNeckTwo = (pulls: string): string => pulls.replaceAll(' 1:', ' 2:');

const FACTS: Readonly<Record<BuiltInId, Facts>> = {
  e9: { necks: [E9], gauges: [E9_GAUGES], controls: E9_ALONE },
  c6: { necks: [C6], gauges: [C6_GAUGES], controls: C6_ALONE },
  double: {
    necks: [E9, C6],
    gauges: [E9_GAUGES, C6_GAUGES],
    controls: {
      ...E9_ALONE,
      ...Object.fromEntries(
        (['P4', 'P5', 'P6', 'P7', 'P8'] as const).map((id) => [id, onNeckTwo(C6_ALONE[id])]),
      ),
      LKR: `${E9_ALONE.LKR} 2:4+1`,
      RKL: `${E9_ALONE.RKL} 2:3-1`,
      RKR: `${E9_ALONE.RKR} 2:3+1`,
    },
  },
  universal12: {
    necks: ['F#4 D#4 G#4 E4 B3 G#3 F#3 E3 B2 G#2 E2 B1'],
    controls: {
      P1: 'P1 1:5+2',
      P2: 'P2 1:3+1 1:6+1',
      P3: 'P3 1:4+2 1:5+2',
      P4: 'P4 1:6+2 1:10+2',
      P5: 'P5 1:7-1 1:11+1 1:12+2',
      P6: 'P6 1:8-2',
      P7: 'P7 1:5+2 1:6+2',
      LKL: 'LKL 1:4+1 1:8+1',
      LKR: 'LKR 1:5-1',
      RKL: 'RKL 1:4-1 1:8-1',
      RKR: 'RKR 1:2-2~-1',
    },
  },
  'lap6-c6': { necks: ['E4 C4 A3 G3 E3 C3'], controls: {} },
  'lap8-c6': { necks: ['G4 E4 C4 A3 G3 E3 C3 A2'], controls: {} },
  'lap6-a6': { necks: ['E4 C#4 A3 F#3 E3 C#3'], controls: {} },
  'square6-g': { necks: ['D4 B3 G3 D3 B2 G2'], controls: {} },
};

const signed = (semitones: number): string => `${semitones > 0 ? '+' : ''}${semitones}`;

function controlsOf(setup: Setup): Record<string, string> {
  return Object.fromEntries(
    setup.controls.map(({ id, station, pulls }) => [
      id,
      [
        station,
        ...pulls
          .toSorted((a, b) => a.neck - b.neck || a.string - b.string)
          .map(
            ({ neck, string, semitones, half }) =>
              `${neck}:${string}${signed(semitones)}${half === undefined ? '' : `~${half}`}`,
          ),
      ].join(' '),
    ]),
  );
}

const gaugesOf = (setup: Setup): string[] =>
  setup.necks.map(({ strings }) =>
    strings
      .map(({ gauge, wound }) => (gauge ?? 0).toFixed(3).slice(1) + (wound === true ? 'w' : ''))
      .join(' '),
  );

describe('the built-in setups', () => {
  it('are the eight of the trade', () => {
    expect([...BUILT_IN_IDS].sort()).toEqual(Object.keys(FACTS).sort());
  });

  it.each(BUILT_IN_IDS)('%s has the open strings of its tuning', (id) => {
    const opens = builtIn(id).necks.map(({ strings }) =>
      strings.map(({ open }) => pitchText(open)).join(' '),
    );
    expect(opens).toEqual(FACTS[id].necks);
  });

  it.each(BUILT_IN_IDS)('%s has the controls of its tuning and no others', (id) => {
    expect(controlsOf(builtIn(id))).toEqual(FACTS[id].controls);
  });

  it.each(['e9', 'c6', 'double'] as const)('%s has the usual gauges', (id) => {
    expect(gaugesOf(builtIn(id))).toEqual(FACTS[id].gauges);
  });

  it.each(BUILT_IN_IDS)('%s says a gauge for every string, thin to thick with the pitch', (id) => {
    for (const { strings } of builtIn(id).necks) {
      const byPitch = strings.toSorted((a, b) => b.open.midi - a.open.midi);
      const gauges = byPitch.map(({ gauge }) => gauge ?? 0);
      expect(gauges).toEqual(gauges.toSorted((a, b) => a - b));
      expect(gauges[0]).toBeGreaterThan(0);
    }
  });

  it.each(BUILT_IN_IDS)('%s has a scale of 24 to 25 inches and at least 24 frets', (id) => {
    const setup = builtIn(id);
    // about 610 to 635 mm: common practice; lap steels without legs go down to 22.5 inches
    expect(setup.scaleLengthMm).toBeGreaterThanOrEqual(setup.controls.length > 0 ? 609 : 571);
    expect(setup.scaleLengthMm).toBeLessThanOrEqual(635);
    expect(setup.frets).toBeGreaterThanOrEqual(24);
    // A4 at 440 Hz (ISO 16)
    expect(hzOf(69, setup.referenceHz)).toBe(440);
  });

  // no page reads them through the reader: that it would take them is held here
  it.each(BUILT_IN_IDS)('%s is what the reader makes of its file', (id) => {
    const file = readFileSync(inRoot(`shared/setups/${id}.json`), 'utf8');
    expect(readSetupText(file)).toEqual({ ok: true, value: builtIn(id) });
  });

  it('are known by their ids, and nothing else is', () => {
    for (const id of BUILT_IN_IDS) expect(isBuiltInId(id)).toBe(true);
    for (const text of ['', 'E9', 'e9.json', 'toString', '__proto__'])
      expect(isBuiltInId(text)).toBe(false);
  });

  it('are names that differ', () => {
    const names = BUILT_IN_IDS.map((id) => builtIn(id).name);
    expect(new Set(names).size).toBe(names.length);
  });
});
