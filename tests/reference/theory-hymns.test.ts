/**
 * Names for real four-part writing: 90 hymns of the Open Hymnal Project (public domain), every
 * moment at which a voice moves. The file lies outside of the project.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { namesOf } from '$lib/theory/names';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf } from '$lib/theory/pitch';
import { readKey } from '$lib/theory/spelling';

interface Tune {
  readonly title: string;
  readonly key: string;
  readonly slices: readonly (readonly [onset: number, midis: readonly number[]])[];
}

const path = new URL('../../../shared/checks/hymns-satb-public-domain.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/hymns-satb-public-domain.json is absent');

describe.skipIf(!present)('hymns in four parts', () => {
  it('have a name at every moment, most of them without a tone left out or added', () => {
    const { tunes } = JSON.parse(readFileSync(path, 'utf8')) as { tunes: readonly Tune[] };
    let count = 0;
    let plain = 0;
    const common = new Map<string, number>();
    for (const tune of tunes) {
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
