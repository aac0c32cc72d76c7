/**
 * Names for real four-part writing: 90 hymns of the Open Hymnal Project (public domain), every
 * moment at which a voice moves. The file lies outside of the project.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { namesOf } from '$lib/theory/names';
import { namedPitches } from '$lib/theory/namedPitches';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf, chromaOfName, nameText } from '$lib/theory/pitch';
import { readKey } from '$lib/theory/spelling';

interface Tune {
  readonly title: string;
  readonly key: string;
  readonly slices: readonly (readonly [onset: number, midis: readonly number[]])[];
}

const path = new URL('../../../shared/checks/hymns-satb-public-domain.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/hymns-satb-public-domain.json is absent');

const tunesThere = (): readonly Tune[] =>
  (JSON.parse(readFileSync(path, 'utf8')) as { tunes: readonly Tune[] }).tunes;

/** Triads and seventh chords as every harmony textbook has them, in semitones above the root. */
const TEXTBOOK: readonly (readonly [suffix: string, semitones: readonly number[]])[] = [
  ['', [0, 4, 7]],
  ['m', [0, 3, 7]],
  ['dim', [0, 3, 6]],
  ['aug', [0, 4, 8]],
  ['7', [0, 4, 7, 10]],
  ['maj7', [0, 4, 7, 11]],
  ['m7', [0, 3, 7, 10]],
  ['m7b5', [0, 3, 6, 10]],
  ['dim7', [0, 3, 6, 9]],
  ['m(maj7)', [0, 3, 7, 11]],
];
const ALIKE_ALL_ROUND = ['aug', 'dim7'];
/** A minor seventh chord over its third is as often called a sixth chord on that third. */
const SIXTHS: Readonly<Record<string, string>> = { m7: '6', m7b5: 'm6' };

const mod = (n: number): number => ((n % 12) + 12) % 12;
const setText = (classes: Iterable<number>): string =>
  [...new Set(classes)].sort((a, b) => a - b).join(' ');

/**
 * What a textbook calls pitches that are a whole triad or seventh chord, as root:suffix with a slash
 * where another tone is lowest; all that are allowed. None where they are something else.
 */
function textbookNames(midis: readonly number[]): string[] {
  const sounding = setText(midis.map(mod));
  const bass = mod(Math.min(...midis));
  const names: string[] = [];
  for (const [suffix, semitones] of TEXTBOOK)
    for (let root = 0; root < 12; root++) {
      if (setText(semitones.map((each) => mod(root + each))) !== sounding) continue;
      if (ALIKE_ALL_ROUND.includes(suffix) && root !== bass) continue;
      names.push(`${root}:${suffix}${root === bass ? '' : '/'}`);
      const sixth = SIXTHS[suffix];
      if (sixth !== undefined && mod(bass - root) === 3) names.push(`${bass}:${sixth}`);
    }
  return names;
}

describe.skipIf(!present)('hymns in four parts', () => {
  it('are called what a textbook calls them wherever all of a triad or seventh chord sounds', () => {
    const wrong = new Map<string, number>();
    let checked = 0;
    for (const { key: keyText, slices } of tunesThere()) {
      const key = readKey(keyText);
      for (const [, midis] of slices) {
        const wanted = textbookNames(midis);
        if (wanted.length === 0) continue;
        checked++;
        for (const options of [{}, key.ok ? { key: key.value } : {}]) {
          const [name] = namedPitches(midis, options).names;
          const chroma = name ? chromaOfName(name.root) : -1;
          const slash = name?.symbol.includes(`/${nameText(name.bass)}`) ? '/' : '';
          const said = `${chroma}:${name?.type ?? ''}${slash}`;
          if (wanted.includes(said)) continue;
          const fault = `${setText(midis.map(mod))} over ${mod(Math.min(...midis))}: ${said}, not ${wanted.join(' or ')}`;
          wrong.set(fault, (wrong.get(fault) ?? 0) + 1);
        }
      }
    }
    console.log(`hymns: ${checked} whole triads and seventh chords called by name`);
    expect([...wrong]).toEqual([]);
    expect(checked).toBeGreaterThan(4000);
  });

  it('have a name at every moment, most of them without a tone left out or added', () => {
    let count = 0;
    let plain = 0;
    const common = new Map<string, number>();
    for (const tune of tunesThere()) {
      const key = readKey(tune.key);
      for (const [, midis] of tune.slices) {
        const set = pcSetOf(midis);
        if (sizeOf(set) < 2) continue;
        const bass = chromaOf(Math.min(...midis));
        const [name] = namesOf(set, bass, { limit: 1, ...(key.ok ? { key: key.value } : {}) });
        if (!name) throw new Error(`${tune.title}: ${midis.join(' ')} has no name`);
        count++;
        if (name.missing.length + name.added.length === 0) plain++;
        common.set(name.type, (common.get(name.type) ?? 0) + 1);
      }
    }
    const share = ((100 * plain) / count).toFixed(1);
    console.log(`hymns: ${count} sounds named, ${share} % without a tone left out or added`);
    console.log(
      [...common]
        .sort((a, b) => b[1] - a[1])
        .slice(0, 12)
        .map(([t, n]) => `${t || 'major'} ${n}`)
        .join(', '),
    );
    expect(count).toBeGreaterThan(0);
    expect(plain / count).toBeGreaterThan(0.8);
  });
});
