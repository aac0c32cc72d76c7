/** What a chord type wants of the strings: its tones, and the sets of pitch classes that say it. */
import { allowedSets, defaultMatch, type AllowedSet, type Match } from './allowedSets';
import type { Chord } from './chord';
import { transpose, type PcSet } from './pcset';
import { chromaOf, nameText, noteName, type Chroma, type NoteName } from './pitch';
import { readChord } from './readChord';

export interface WantedType {
  /** Canonical suffix. */
  readonly type: string;
  /** The chord on C. */
  readonly chord: Chord;
  /** How much of it has to sound: as the search takes it where nothing is said. */
  readonly match: Match;
  /** On C, the complete one first. */
  readonly sets: readonly AllowedSet[];
  /** The sets that say it on any root, each once: all of them, and the complete ones. */
  readonly onAnyRoot: { readonly all: Uint16Array; readonly complete: Uint16Array };
  /** The chord's degrees by their pitch class above the root. */
  readonly degrees: ReadonlyMap<Chroma, string>;
}

function onAnyRoot(sets: readonly AllowedSet[]): Uint16Array {
  const each = new Set<PcSet>();
  for (const { set } of sets) for (let root = 0; root < 12; root++) each.add(transpose(set, root));
  return Uint16Array.from(each);
}

/** A chord by its root and the suffix of its type; the suffix must be one that can be read. */
export function chordWith(root: NoteName, type: string): Chord {
  const read = readChord(nameText(root) + type);
  if (!read.ok || read.value === 'no chord') throw new Error(`“${type}” is no chord type`);
  return read.value;
}

const known = new Map<string, WantedType>();

/** Made once for each type, then remembered: there are a few dozen. */
export function wantedType(type: string): WantedType {
  let wanted = known.get(type);
  if (wanted === undefined) {
    const chord = chordWith(noteName('C', 0), type);
    const match = defaultMatch(chord);
    const sets = allowedSets(chord, match);
    wanted = {
      type,
      chord,
      match,
      sets,
      onAnyRoot: {
        all: onAnyRoot(sets),
        complete: onAnyRoot(sets.filter(({ missing }) => missing.length === 0)),
      },
      degrees: new Map(chord.tones.map(({ chroma, degree }) => [chromaOf(chroma), degree])),
    };
    known.set(type, wanted);
  }
  return wanted;
}
