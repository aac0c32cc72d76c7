/**
 * Real progressions solved on E9: the 247 songs of the McGill Billboard annotations (J. A. Burgoyne,
 * J. Wild, I. Fujinaga, ISMIR 2011; CC0), and hymns of the Open Hymnal Project (public domain) with
 * their soprano on top. Both files lie outside of the project.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { namesOf } from '$lib/theory/names';
import { pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf, pitchNamed } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import { readChord } from '$lib/theory/readChord';
import { builtIn } from '$lib/setup/builtIns';
import { arrange } from '$lib/arrange/arrange';
import { stepsOf, type Progression, type Slot } from '$lib/arrange/progression';
import { noWishes } from '$lib/arrange/wishes';
import { battery } from '../battery';
import { present, songs } from './billboard';

const e9 = builtIn('e9');
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

describe.skipIf(!present)('songs', () => {
  battery('are all read and solved on E9', { slice: 5, whole: 247 }, ({ count, of }) => {
    const all = of(songs());
    expect(all).toHaveLength(count);
    let chords = 0;
    let unread = 0;
    let unplayable = 0;
    const times: number[] = [];
    for (const song of all) {
      unread += song.unread.length;
      // a single tone is no chord, and one label lost its first half
      for (const label of song.unread) expect(label).toMatch(/:1$|:b3\)?$/);
      const steps = stepsOf(song.progression).filter(({ chord }) => chord !== 'no chord');
      chords += steps.length;
      const begin = performance.now();
      const { ways, unplayable: left } = arrange(e9, song.progression, noWishes(false), 1);
      times.push(performance.now() - begin);
      unplayable += left.length;
      const [best] = ways;
      expect(best?.steps.length ?? 0, song.title).toBe(steps.length - left.length);
      // every chord is what was asked: nothing sounds that is not in it
      for (const { voicing, tones } of best?.steps ?? [])
        for (const midi of voicing.pitches)
          expect(
            tones.map(({ chroma }) => chroma),
            song.title,
          ).toContain(chromaOf(midi));
    }
    console.log(
      `songs on E9: ${all.length}, ${chords} chords, ${unread} labels that are no chord, ${unplayable} unplayable, median ${median(times).toFixed(0)} ms a song`,
    );
    // no figure from outside: what is promised is that nothing of this music is out of reach
    expect(unplayable).toBe(0);
  });
});

interface Tune {
  readonly title: string;
  readonly slices: readonly (readonly [onset: number, midis: readonly number[]])[];
}

const hymns = new URL('../../../shared/checks/hymns-satb-public-domain.json', import.meta.url);
const sung = existsSync(hymns);
if (!sung) console.log('skipped: ../shared/checks/hymns-satb-public-domain.json is absent');

/** A hymn's moments as named chords, the soprano as the note on top. */
function hymnOf({ title, slices }: Tune): Progression {
  const slots = slices.flatMap(([, midis]): Slot[] => {
    const set = pcSetOf(midis);
    if (sizeOf(set) < 3) return [];
    const [name] = namesOf(set, chromaOf(Math.min(...midis)), { limit: 1 });
    const read =
      name && name.added.length === 0 ? readChord(name.symbol.replace(/\/.*$/, '')) : undefined;
    if (!read?.ok) return [];
    const top = Math.max(...midis);
    return [{ chord: read.value, share: 1, melody: pitchNamed(plainName(chromaOf(top)), top) }];
  });
  return { title, bars: slots.map((slot) => ({ slots: [slot] })) };
}

describe.skipIf(!sung)('hymns', () => {
  it('have their soprano on top of every chord that is played', () => {
    const { tunes } = JSON.parse(readFileSync(hymns, 'utf8')) as { tunes: readonly Tune[] };
    let moments = 0;
    let passedOver = 0;
    let unplayable = 0;
    for (const tune of tunes.filter((_, at) => at % 9 === 0)) {
      const progression = hymnOf(tune);
      const { ways, unplayable: left } = arrange(e9, progression, noWishes(false), 1);
      moments += progression.bars.length;
      passedOver += tune.slices.length - progression.bars.length;
      unplayable += left.length;
      for (const { step, voicing } of ways[0]?.steps ?? []) {
        const wanted = step.melody && 'midi' in step.melody ? step.melody.midi : undefined;
        expect(Math.max(...voicing.pitches), tune.title).toBe(wanted);
      }
    }
    console.log(
      `hymns on E9: ${moments} moments, ${passedOver} more that are no plain chord, ${unplayable} unplayable with the soprano on top`,
    );
    expect(moments).toBeGreaterThan(200);
    // no figure from outside: what is promised is that nothing of this music is out of reach
    expect(unplayable).toBe(0);
  });
});
