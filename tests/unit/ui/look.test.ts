/** Contrast after WCAG 2.2: (lighter + 0.05) / (darker + 0.05) of relative luminances. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync('src/lib/ui/look/look.css', 'utf8');

/** A token's colour in the light and in the dark look. */
function token(name: string): [light: string, dark: string] {
  const value = new RegExp(`--${name}: ([^;]+);`).exec(css)?.[1] ?? '';
  const colours = value.match(/#[0-9a-f]{6}/g) ?? [];
  const [light, dark] = colours;
  if (!light) throw new Error(`no colour for --${name}: ${value}`);
  return [light, dark ?? light];
}

function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

describe('colours', () => {
  it('are measured as WCAG does: black on white is 21 : 1', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  });

  it.each([
    ['root', '#d55e00'],
    ['third', '#0072b2'],
    ['fifth', '#009e73'],
    ['seventh', '#cc79a7'],
    ['extension', '#e69f00'],
    ['alteration', '#56b4e9'],
  ])('the %s has its Okabe–Ito colour %s and readable text on it', (tone, colour) => {
    expect(token(`tone-${tone}`)[0]).toBe(colour);
    expect(contrast(colour, token(`on-${tone}`)[0])).toBeGreaterThanOrEqual(4.5);
  });

  it.each([
    ['ink', 'paper', 4.5],
    ['ink', 'wood', 4.5],
    ['ink-2', 'paper', 4.5],
    ['ink-2', 'paper-2', 4.5],
    ['line-strong', 'paper', 3],
    ['string', 'wood', 3],
  ])('%s stands out from %s at %f : 1 in both looks', (front, back, least) => {
    const [f, b] = [token(front), token(back)];
    expect(contrast(f[0], b[0])).toBeGreaterThanOrEqual(least);
    expect(contrast(f[1], b[1])).toBeGreaterThanOrEqual(least);
  });
});
