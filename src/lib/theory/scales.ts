/**
 * Scales: names of the theory library's dictionary on a root, and the scale that belongs to a chord. Beside
 * `chordTypes` the only file that asks the library anything.
 */
import { ScaleType as Dictionary } from 'tonal';
import { refuse, ok, type Result } from '$lib/result';
import type { Chord } from './chord';
import { degreeChroma, degreeName, degreeOfInterval, degreeParts } from './degrees';
import type { ToneRole } from './duties';
import { pcSetOf, transpose, type PcSet } from './pcset';
import { chromaOf, chromaOfName, nameText, parseNoteName, type NoteName } from './pitch';
import { readChordInKey } from './readChord';
import type { Key } from './spelling';
import { plainName, type SpelledTone } from './toneNames';

/** A kind of scale, without a root. */
export interface ScaleType {
  /** As it is called in text, all in small letters: `minor pentatonic`. */
  readonly name: string;
  /** What it is called besides. */
  readonly also: readonly string[];
  /** Ascending from `1`: `b3`, `#4`. */
  readonly degrees: readonly string[];
  /** Pitch classes above a root of 0. */
  readonly set: PcSet;
}

/** A scale on a root. */
export interface Scale {
  /** `G mixolydian`, in plain letters. */
  readonly name: string;
  readonly root: NoteName;
  /** The name of its type. */
  readonly type: string;
  /** Ascending from the root; no name has two sharps or flats. */
  readonly tones: readonly SpelledTone[];
  readonly pitchClasses: PcSet;
}

/** Names that the dictionary has not; usual in textbooks of harmony. */
const FURTHER: Readonly<Record<string, readonly string[]>> = {
  minor: ['natural minor'],
  'melodic minor': ['jazz minor'],
  diminished: ['octatonic'],
  'half-whole diminished': ['half-whole', 'diminished half-whole'],
  'minor blues': ['minor blues scale'],
};

/** All types in the dictionary's order. */
export const SCALE_TYPES: readonly ScaleType[] = Dictionary.all().map(
  ({ name, aliases, intervals }) => {
    const degrees = intervals.map(degreeOfInterval);
    return {
      name,
      also: [...aliases, ...(FURTHER[name] ?? [])],
      degrees,
      set: pcSetOf(degrees.map(degreeChroma)),
    };
  },
);

/** Those that players ask for most, in the order in which they are offered. */
export const USUAL_SCALES = [
  'major',
  'minor',
  'mixolydian',
  'dorian',
  'major pentatonic',
  'minor pentatonic',
  'major blues',
  'minor blues',
  'lydian',
  'phrygian',
  'locrian',
  'harmonic minor',
  'melodic minor',
  'lydian dominant',
  'altered',
  'whole tone',
  'diminished',
  'half-whole diminished',
] as const;

const byName = new Map(
  SCALE_TYPES.flatMap((type) => [type.name, ...type.also].map((name) => [name, type] as const)),
);

/** The type of a name or of another name for it, in small letters. */
export const scaleTypeNamed = (name: string): ScaleType | undefined => byName.get(name);

/**
 * What a degree of a scale is coloured as: 2, 4 and their altered forms as the ninth and the eleventh that
 * they would be in a chord.
 */
function roleInScale(degree: string): ToneRole {
  const { number, alter } = degreeParts(degree);
  if (number === 1) return 'root';
  if (number === 3) return 'third';
  if (number === 5) return 'fifth';
  if (number === 6) return 'sixth';
  if (number === 7) return 'seventh';
  return alter === 0 ? 'extension' : 'alteration';
}

/** A scale of a type on a root. */
export function scaleOn(root: NoteName, { name, degrees, set }: ScaleType): Scale {
  const tones = degrees.map((degree): SpelledTone => {
    const written = degreeName(root, degree);
    const chroma = chromaOfName(written);
    const own = Math.abs(written.alter) > 1 ? plainName(chroma) : written;
    return { degree, chroma, name: own, role: roleInScale(degree) };
  });
  return {
    name: `${nameText(root)} ${name}`,
    root,
    type: name,
    tones,
    pitchClasses: transpose(set, chromaOfName(root)),
  };
}

/**
 * The scales in which a chord is looked for, the nearest first: of those that have all of its tones the first
 * is its scale. That a dominant seventh goes with mixolydian, a minor chord with dorian, a half-diminished one
 * with locrian, an altered one with the altered scale, and so on, is common practice of jazz harmony (chord
 * scales), from memory; a ♭9 alone goes with the fifth mode of harmonic minor, as the dominant of minor.
 */
const SCALES_OF_CHORDS = [
  'major',
  'mixolydian',
  'dorian',
  'lydian',
  'minor',
  'melodic minor',
  'harmonic minor',
  'locrian',
  'lydian dominant',
  'whole tone',
  'phrygian dominant',
  'mixolydian b6',
  'diminished',
  'half-whole diminished',
  'altered',
  'lydian augmented',
  'harmonic major',
  'phrygian',
  'bebop',
  'bebop minor',
  'augmented',
  'chromatic',
] as const;

const KEY_SCALES = { major: 'major', minor: 'minor' } as const;

/**
 * The scale that belongs to a chord, from its root. In a key it is the key's own scale begun on the chord's
 * root wherever that has all tones of the chord; a bass that is no chord tone is not asked.
 */
export function scaleOfChord({ root, tones }: Chord, key?: Key): Scale {
  const own = pcSetOf(tones.filter(({ role }) => role !== 'bass').map(({ chroma }) => chroma));
  const at = chromaOfName(root);
  const above = transpose(own, -at);
  if (key !== undefined) {
    const keys = byName.get(KEY_SCALES[key.mode]);
    const inKey = transpose(keys?.set ?? 0, chromaOfName(key.tonic) - at);
    const mode = SCALE_TYPES.find(({ set }) => set === inKey);
    if (mode !== undefined && (above & ~inKey) === 0) return scaleOn(root, mode);
  }
  const found = SCALES_OF_CHORDS.find((name) => (above & ~(byName.get(name)?.set ?? 0)) === 0);
  const type = byName.get(found ?? 'chromatic');
  if (type === undefined) throw new Error(`the dictionary of scales has no "${found}"`);
  return scaleOn(root, type);
}

/** What could not be read as a scale. */
export interface ScaleFault {
  /** The piece that is not understood. */
  readonly found: string;
  readonly allowed: string;
  /** Names that may have been meant, with their root. */
  readonly meant: readonly string[];
}

const A_SCALE = 'a root and the name of a scale, such as G mixolydian, or a chord, such as G7';

/** Names of which a text is the beginning or a part, most usual first. */
function namesLike(text: string): string[] {
  if (text === '') return [];
  const all = [...USUAL_SCALES, ...SCALE_TYPES.map(({ name }) => name)];
  const first = text.slice(0, 3);
  return [...new Set(all)].filter((name) => name.includes(text) || name.startsWith(first));
}

/**
 * Reads `G mixolydian`, `F♯ minor pentatonic`; a chord such as `G7` stands for its scale.
 *
 * @param key in which a chord is heard, and from which a degree such as `V7` counts
 */
export function readScale(text: string, key?: Key): Result<Scale, ScaleFault> {
  const written = text.trim().replace(/\s+/gu, ' ');
  const [, first = '', rest = ''] = /^(\S+)(?: (.+))?$/u.exec(written) ?? [];
  const root = parseNoteName(first);
  const name = rest
    .toLowerCase()
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replaceAll('’', "'")
    .replace(/ scale$/u, '');
  const type = byName.get(name);
  if (root !== undefined && type !== undefined) return ok(scaleOn(root, type));
  const chord = readChordInKey(written, key);
  if (chord.ok && chord.value !== 'no chord') return ok(scaleOfChord(chord.value, key));
  const meant = root === undefined ? [] : namesLike(name).slice(0, 3);
  return refuse({
    found: root === undefined || rest === '' ? written : rest,
    allowed: A_SCALE,
    meant: meant.map((each) => `${nameText(root as NoteName)} ${each}`),
  });
}

/** The next tone of a scale above (or, with −1, below) a pitch in semitones, in semitones. */
export function nextInScale({ pitchClasses }: Scale, midi: number, way: 1 | -1 = 1): number {
  let at = midi + way;
  while ((pitchClasses & (1 << chromaOf(at))) === 0) at += way;
  return at;
}
