import { describe, expect, it } from 'vitest';
import {
  barLine,
  discWidth,
  fretNearest,
  fretShare,
  fretX,
  isMarked,
  layOutNeck,
  leastRun,
  numberedFrets,
  scrolledTo,
  stoppedAt,
  stringPx,
  stringY,
} from '$lib/ui/neck/neckGeometry';

/** Inches from the nut on a scale of 24.25 in, from L · (1 − 2^(−n/12)). */
const POSITIONS = [
  [1, 1.36105],
  [5, 6.08303],
  [7, 8.06507],
  [12, 12.125],
  [24, 18.1875],
] as const;

const wide = layOutNeck(1220, 10, 24, 'true');
const phone = layOutNeck(206, 10, 24, 'true');

describe('frets', () => {
  it.each(POSITIONS)('lie true to scale: fret %i at %f in of 24.25 in', (fret, inches) => {
    expect(fretShare(fret, 24, 'true') * 18.1875).toBeCloseTo(inches, 4);
    const scalePx = wide.runPx / 0.75; // the 24th fret leaves a quarter of the string
    expect(fretX(wide, fret) - wide.nutX).toBeCloseTo((inches / 24.25) * scalePx, 2);
  });

  it('lie at equal distances on request', () => {
    const neck = layOutNeck(1220, 10, 24, 'equal');
    expect(fretX(neck, 6) - neck.nutX).toBeCloseTo(neck.runPx / 4, 9);
  });

  it('are found again from their place', () => {
    for (const neck of [wide, phone]) {
      for (let fret = 0; fret <= 24; fret++)
        expect(fretNearest(neck, fretX(neck, fret))).toBe(fret);
    }
    expect(fretNearest(wide, -500)).toBe(0);
    expect(fretNearest(wide, 5000)).toBe(24);
  });

  it('are marked at 3 5 7 9 12 and the same an octave up', () => {
    const marked = Array.from({ length: 25 }, (_, n) => n).filter(isMarked);
    expect(marked).toEqual([3, 5, 7, 9, 12, 15, 17, 19, 21, 24]);
  });

  it('have their numbers where there is room', () => {
    expect(numberedFrets(wide)).toHaveLength(24);
    expect(numberedFrets(phone)).not.toContain(23);
    expect(numberedFrets(phone)).toEqual(expect.arrayContaining([3, 12, 24]));
  });

  it('never crowd below the least gap', () => {
    expect(leastRun(24, 'true') * (1 - fretShare(23, 24, 'true'))).toBeCloseTo(11, 9);
    expect(phone.runPx).toBeCloseTo(leastRun(24, 'true'), 9);
    expect(phone.width).toBeGreaterThan(206);
    expect(wide.width).toBe(1220);
  });

  it('may be missing altogether', () => {
    const bare = layOutNeck(600, 6, 0, 'true');
    expect(fretX(bare, 0)).toBe(bare.nutX);
    expect(fretNearest(bare, 300)).toBe(0);
  });
});

describe('strings', () => {
  it('lie at one distance, string 1 at the far edge', () => {
    expect(stringY(wide, 2) - stringY(wide, 1)).toBe(25);
    expect(stringY(phone, 10) - stringY(phone, 9)).toBe(24);
    expect(stringY(wide, 1)).toBeLessThan(stringY(wide, 10));
    expect(stringY(wide, 10)).toBeLessThan(wide.boardBottom);
  });

  it('lie wider on a taller page, and never closer than WCAG 2.2 lets targets lie (2.5.8)', () => {
    const apart = (room: number, page: number): number =>
      layOutNeck(room, 10, 24, 'true', page).rowHeight;
    for (const room of [206, 1220]) {
      const rows = [360, 780, 900, 1100, 1440].map((page) => apart(room, page));
      expect(rows).toEqual([...rows].sort((a, b) => a - b));
      expect(Math.min(...rows)).toBeGreaterThanOrEqual(24);
      expect(rows.at(-1)).toBeGreaterThan(rows[0] ?? NaN);
    }
  });

  it('are as thick as their gauge', () => {
    expect(stringPx(0.036) / stringPx(0.018)).toBeCloseTo(2, 9);
    expect(stringPx(0.001)).toBe(0.9);
    expect(stringPx(0.2)).toBe(5);
  });

  it('give longer labels longer discs', () => {
    expect(discWidth(wide, '7')).toBe(wide.discPx);
    // two signs stand in a round disc where it is large enough for them
    const tall = layOutNeck(1220, 10, 24, 'true', 1100);
    expect(discWidth(tall, '♭7')).toBe(tall.discPx);
    expect(discWidth(wide, '♭7')).toBeGreaterThan(wide.discPx);
    for (const neck of [wide, tall]) expect(discWidth(neck, '♯11')).toBe(discWidth(neck, '♭7') + 9);
  });
});

describe('the bar', () => {
  it('stops string i at f + d · (b − i) / (b − a)', () => {
    const bar = { fret: 8, slant: 2, far: 3, near: 5 };
    expect([3, 4, 5, 6].map((string) => stoppedAt(bar, string))).toEqual([10, 9, 8, 7]);
    expect(stoppedAt({ fret: 8, slant: -1, far: 1, near: 3 }, 2)).toBe(7.5);
    expect(stoppedAt({ fret: 8, slant: 0, far: 1, near: 1 }, 1)).toBe(8);
  });

  it('lies straight across at its fret', () => {
    const line = barLine(wide, { fret: 8, slant: 0, far: 1, near: 10 }, 10);
    expect(line.x).toBeCloseTo(fretX(wide, 8), 9);
    expect(line.turn).toBe(0);
    expect(line.y).toBe((stringY(wide, 1) + stringY(wide, 10)) / 2);
    expect(line.y - line.toNose).toBeLessThan(stringY(wide, 1));
    expect(line.y - line.toNose + line.length).toBeGreaterThan(stringY(wide, 10));
  });

  it('runs through both slant strings where they are stopped', () => {
    const bar = { fret: 8, slant: 2, far: 3, near: 5 };
    const line = barLine(wide, bar, 10);
    const slope = Math.tan((line.turn * Math.PI) / 180);
    for (const string of [3, 5]) {
      const x = line.x + slope * (line.y - stringY(wide, string));
      expect(x).toBeCloseTo(fretX(wide, stoppedAt(bar, string)), 6);
    }
    expect(line.turn).toBeGreaterThan(0);
  });
});

describe('scrolling', () => {
  it('keeps the bar away from both edges and else stays', () => {
    expect(scrolledTo(300, 200, 0, 210)).toBe(200);
    expect(scrolledTo(220, 200, 0, 210)).toBe(150);
    expect(scrolledTo(500, 200, 0, 210)).toBe(360);
    expect(scrolledTo(20, 200, 0, 210)).toBe(0);
  });
});
