/**
 * First names of sounds against what musicians say (`soundNames.ts`), on all twelve roots: by rule
 * for triads and sevenths in every inversion and spacing, by hand for the rest.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { degreeChroma } from '$lib/theory/degrees';
import { nameText, chromaOf, chromaOfName, parsePitch } from '$lib/theory/pitch';
import { namedPitches } from '$lib/theory/namedPitches';
import { builtIn } from '$lib/setup/builtIns';
import { readEngaged } from '$lib/answers/readEngaged';
import { soundOf } from '$lib/answers/sound';
import { GROUPS, INVERTED } from './soundNames';

/** Pitches over a root, each the nearest above the one before. */
function stacked(degrees: readonly string[], root: number): number[] {
  const pitches: number[] = [];
  for (const degree of degrees) {
    const before = pitches.at(-1) ?? 47 + root;
    const chroma = chromaOf(root + degreeChroma(degree));
    pitches.push(before + 1 + chromaOf(chroma - before - 1));
  }
  return pitches;
}

/** A symbol without its remarks on missing tones. */
const withoutRemarks = (symbol: string): string =>
  symbol
    .replace(/\bno[b#]*\d+,?/g, '')
    .replace(/,\)/g, ')')
    .replace('()', '');

/** What is said of pitches, as root (0 … 11), suffix and slash. */
function said(pitches: readonly number[]): string {
  const [name] = namedPitches(pitches).names;
  if (name === undefined) return 'nothing';
  const symbol = withoutRemarks(name.symbol);
  const slash = `/${nameText(name.bass)}`;
  const suffix = (symbol.endsWith(slash) ? symbol.slice(0, -slash.length) : symbol).slice(
    nameText(name.root).length,
  );
  return `${chromaOfName(name.root)}:${suffix || 'maj'}${symbol.endsWith(slash) ? '/' : ''}`;
}

function wanted(names: string, root: number): string[] {
  return names.split(' ').map((name) => {
    const [degree = '1', suffix] = name.includes(':') ? name.split(':') : ['1', name];
    return `${chromaOf(root + degreeChroma(degree))}:${suffix ?? ''}`;
  });
}

/** Rows that fail, on the first root where they do; each row holds on all twelve. */
function failing(rowsOf: readonly (readonly [degrees: string[], names: string])[]): string[] {
  return rowsOf.flatMap(([degrees, names]) => {
    for (let root = 0; root < 12; root++) {
      const name = said(stacked(degrees, root));
      if (!wanted(names, root).includes(name))
        return [`${degrees.join(' ')} over ${root}: ${name}, not ${names}`];
    }
    return [];
  });
}

/** Close position turned so that the tone at `first` is lowest. */
const turned = (tones: readonly string[], first: number): string[] => [
  ...tones.slice(first),
  ...tones.slice(0, first),
];

/** Spacings of a close position: as it is; the second or third tone from the top lowest; doubled. */
function spacings(close: readonly string[]): string[][] {
  const drop = (fromTop: number): string[] => {
    const at = close.length - fromTop;
    return [close[at] ?? '', ...close.slice(0, at), ...close.slice(at + 1)];
  };
  return [[...close], drop(2), drop(3), [...close, close[0] ?? ''], [close[0] ?? '', ...close]];
}

describe('a musician’s first name', () => {
  it.each(GROUPS)('$practice', ({ rows }) => {
    const split = rows.map((row): readonly [string[], string] => {
      const [stack = '', names = ''] = row.split(' = ');
      return [stack.split(' '), names];
    });
    expect(failing(split)).toEqual([]);
  });

  it.each(INVERTED)('$suffix keeps its name in every inversion and spacing', (chord) => {
    const tones = chord.degrees.split(' ');
    const sounds = new Map<string, readonly [string[], string]>();
    for (const first of tones.keys())
      for (const spaced of spacings(turned(tones, first))) {
        const bass = spaced[0] ?? '';
        const names =
          bass === '1'
            ? chord.suffix
            : bass === chord.alone
              ? (chord.also ?? '')
              : `${chord.suffix}/${chord.also === undefined ? '' : ` ${chord.also}/`}`;
        sounds.set(spaced.join(' '), [spaced, names]);
      }
    expect(failing([...sounds.values()])).toEqual([]);
  });

  it('is given by a table of more than 250 sounds', () => {
    const byHand = GROUPS.reduce((sum, { rows }) => sum + rows.length, 0);
    // three tones: 3 inversions × 4 different spacings; four tones: 4 × 5
    const byRule = INVERTED.reduce(
      (sum, { degrees }) => sum + (degrees.split(' ').length === 3 ? 12 : 20),
      0,
    );
    console.log(`first names: ${byHand} sounds by hand, ${byRule} by rule, each on twelve roots`);
    expect(byHand).toBeGreaterThan(200);
    expect(byHand + byRule).toBeGreaterThan(250);
  });

  it('of a symmetrical chord is that of its bass', () => {
    for (let root = 0; root < 12; root++) {
      expect(said(stacked(['1', 'b3', 'b5', 'bb7'], root))).toBe(`${root}:dim7`);
      expect(said(stacked(['1', '3', '#5'], root))).toBe(`${root}:aug`);
      expect(said(stacked(['1', 'b5', 'bb7', 'b3'], root))).toBe(`${root}:dim7`);
    }
  });

  // On E9 a player sees the bar's chord: the seventh is string 9, and A gives the thirteenth on 5.
  it.each([
    ['9-6-5-4 at fret 3 with A', 3, 'A', [4, 5, 6, 9], 'G13'],
    ['9-7-6-5 at fret 3 with A', 3, 'A', [5, 6, 7, 9], 'G13'],
    ['3-4-5 at fret 4 with B and LKV', 4, 'B,LKV', [3, 4, 5], 'E13'],
    ['9-7-6 at fret 10', 10, '', [6, 7, 9], 'D9'],
  ] as const)('on E9: %s', (_, fret, controls, strings, symbol) => {
    const setup = builtIn('e9');
    const engaged = readEngaged(setup, controls);
    if (!engaged.ok) throw new Error(controls);
    const { names } = soundOf(setup, { neck: 1, fret, engaged: engaged.value, strings, slant: 0 });
    expect(withoutRemarks(names[0]?.symbol ?? '')).toBe(symbol);
    if (symbol === 'E13') expect(withoutRemarks(names[1]?.symbol ?? '')).toBe('Bb7#9');
  });
});

describe('two notes', () => {
  // Low and high note; the interval; and what they are of the chord that one hears first: a major
  // triad, else a minor one, a fifth without more, or a seventh chord (common practice).
  it.each([
    ['G4', 'E5', 'major sixth', '3 over 5 of C'],
    ['E4', 'C5', 'minor sixth', '1 over 3 of C'],
    ['C4', 'E4', 'major third', '3 over 1 of C'],
    ['E4', 'G4', 'minor third', '♭3 over 1 of Em'],
    ['C4', 'E5', 'major tenth', '3 over 1 of C'],
    ['C4', 'G4', 'perfect fifth', '5 over 1 of C5'],
    ['G3', 'C4', 'perfect fourth', '1 over 5 of C5'],
    ['C4', 'Bb4', 'minor seventh', '♭7 over 1 of C7'],
    ['C4', 'B4', 'major seventh', '7 over 1 of Cmaj7'],
    // of the two dominants that have it, the one whose third is below
    ['C4', 'F#4', 'tritone', '♭7 over 3 of A♭7'],
  ])('%s and %s are a %s: %s', (low, high, interval, reading) => {
    const pitches = [low, high].map((text) => parsePitch(text)?.midi ?? 0);
    const sound = namedPitches(pitches);
    expect(sound.interval).toBe(interval);
    expect(sound.reading).toBe(reading);
  });
});

describe('clusters and stacks of fourths', () => {
  it.each([
    [['B3', 'C4', 'D4'], 'cluster: B C D (minor second, major second)'],
    [['E4', 'F4', 'G4'], 'cluster: E F G (minor second, major second)'],
    [['F#4', 'G4', 'A4', 'B4'], 'cluster: F♯ G A B (minor second, major second, major second)'],
    [['G3', 'C4', 'F4'], 'stack of fourths: G C F'],
    [['C4', 'F4', 'Bb4', 'Eb5'], 'stack of fourths: C F B♭ E♭'],
  ] as const)('%j are told as they are, and named no chord', (notes, text) => {
    const sound = namedPitches(notes.map((note) => parsePitch(note)?.midi ?? 0));
    expect(sound.names).toEqual([]);
    expect(sound.interval).toBe(text);
  });

  it('are chords once they are spread, doubled or stacked to five', () => {
    // by hand: a major seventh with a ninth; a third with the ninth inside; six nine on fourths
    expect(said([48, 59, 62, 64])).toBe('0:maj9');
    expect(said([60, 62, 64])).toBe('0:add9');
    expect(namedPitches([52, 57, 62, 67, 72]).names.length).toBeGreaterThan(0);
  });
});

const path = new URL('../../../shared/checks/names.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/names.json is absent');

describe.skipIf(!present)('a list of what musicians say', () => {
  it('holds for every sound of it', () => {
    const { sounds } = JSON.parse(readFileSync(path, 'utf8')) as {
      sounds: readonly { notes: readonly string[]; say: readonly string[] }[];
    };
    const wrong = sounds.flatMap(({ notes, say }) => {
      const pitches = notes.map((note) => parsePitch(note)?.midi ?? 0);
      const { names, interval = '' } = namedPitches(pitches);
      const symbol = names[0]?.symbol ?? '';
      const holds =
        say.some((text) => text === symbol || text === withoutRemarks(symbol)) ||
        say.includes(interval) ||
        (say.includes('(cluster)') && interval.startsWith('cluster')) ||
        (say.includes('(fourths)') && interval.startsWith('stack of fourths'));
      return holds ? [] : [`${notes.join(' ')}: ${symbol} ${interval}, not ${say.join(', ')}`];
    });
    expect(wrong).toEqual([]);
    console.log(`names: ${sounds.length} sounds as musicians say them`);
  });
});
