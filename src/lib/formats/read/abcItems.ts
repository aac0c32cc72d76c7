/** What the items of a tune say, as `abcjs` parses it: notes, syllables, slurs, signs and tempos. */
import type { KeySignature, TempoProperties, VoiceItemNote } from 'abcjs';
import { readChordInKey } from '$lib/theory/readChord';
import { parseKey, type Key } from '$lib/theory/spelling';
import type { Jump } from '$lib/arrange/piece';

/** Semitones by the names that abcjs has for accidentals. */
export const ALTERS: Readonly<Record<string, number>> = {
  dblflat: -2,
  flat: -1,
  natural: 0,
  sharp: 1,
  dblsharp: 2,
};

/** Double bars, by the names that abcjs has for them. */
export const DOUBLE: ReadonlySet<string> = new Set([
  'bar_thin_thin',
  'bar_thin_thick',
  'bar_thick_thin',
]);

/** A chord symbol or a degree of the key, or the first of `"G(Em)"`, which leaves a choice. */
export const chordNamed = (name: string, key: Key | undefined): ReturnType<typeof readChordInKey> =>
  readChordInKey(/^([^()]+)\([A-G][^()]*\)$/u.exec(name.trim())?.[1] ?? name.trim(), key);

/** Words that say there is no chord. */
export const NO_CHORD = /^\s*n\.?\s?c\.?\s*$/iu;

/** A note, or a rest, with all that may stand at it. */
export type Note = VoiceItemNote &
  Decorated & {
    readonly gracenotes?: readonly { readonly pitch: number; readonly accidental?: string }[];
    readonly lyric?: readonly { readonly syllable: string; readonly divider: string }[];
    readonly chord?: readonly { readonly name: string; readonly position?: string }[];
    readonly startTriplet?: number;
    readonly endTriplet?: boolean;
    readonly tripletMultiplier?: number;
  };

/** Decorations that say in which order the bars are played (ABC 2.1, 4.14), in small letters. */
export const JUMPS: Readonly<Record<string, Jump>> = {
  'd.c.': { to: 'beginning', until: 'end' },
  dacapo: { to: 'beginning', until: 'end' },
  'd.c.alfine': { to: 'beginning', until: 'fine' },
  'd.c.alcoda': { to: 'beginning', until: 'coda' },
  'd.s.': { to: 'segno', until: 'end' },
  'd.s.alfine': { to: 'segno', until: 'fine' },
  'd.s.alcoda': { to: 'segno', until: 'coda' },
};

/** What has signs on it. */
export interface Decorated {
  readonly decoration?: readonly string[];
}

/** The syllables under a note, a verse each, with a hyphen where the word goes on. */
export function syllables({ lyric = [] }: Note): (string | undefined)[] | undefined {
  const found = lyric.map(({ syllable, divider }) =>
    syllable === '' ? undefined : `${syllable}${divider === '-' ? '-' : ''}`,
  );
  return found.some((each) => each !== undefined) ? found : undefined;
}

/** Slurs that begin or end at a note or its pitches. */
export const slurs = (note: Note, which: 'startSlur' | 'endSlur'): number =>
  [note, ...(note.pitches ?? [])].reduce((sum, each) => {
    const found: unknown = which in each ? each[which as keyof typeof each] : undefined;
    return sum + (Array.isArray(found) ? found.length : 0);
  }, 0);

/** Quarter notes a minute; a tempo in words has none. */
export function quartersAMinute({ bpm, duration }: TempoProperties): number | undefined {
  if (bpm === undefined) return undefined;
  return bpm * 4 * (duration?.reduce((sum, each) => sum + each, 0) ?? 1 / 4);
}

/** A major or a minor key; the church modes have no key of ours. */
export function keyIn({ root, acc, mode }: KeySignature): Key | undefined {
  if (!/^[A-G]$/u.test(root) || (mode !== '' && mode !== 'm')) return undefined;
  return parseKey(`${root}${acc}${mode}`);
}
