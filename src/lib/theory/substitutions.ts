/**
 * Chords that may stand for another, or lead to the next one, each by a rule of tonal harmony. Common practice,
 * as any book on the harmony of standards tells it; what suits a tune is for the ear.
 */
import type { Chord } from './chord';
import { chromaOf, chromaOfName, nameText, type NoteName } from './pitch';
import { readChord } from './readChord';
import { movedByFifths, rootInKey, type Key } from './spelling';

/** The rules, by their common names. */
export const SUBSTITUTION_RULES = [
  'tritone',
  'passing diminished',
  'secondary dominant',
  'relative',
  'quartal',
] as const;
/** One of them. */
export type SubstitutionRule = (typeof SUBSTITUTION_RULES)[number];

/** Each rule in a sentence. */
export const RULE_WORDS: Readonly<Record<SubstitutionRule, string>> = {
  tritone:
    'A dominant seventh gives way to the one a tritone away, which has the same third and seventh.',
  'passing diminished':
    'A diminished seventh on the half step between two roots leads to the next chord.',
  'secondary dominant': 'The dominant seventh of the next chord leads to it.',
  relative: 'A major chord and the minor one a minor third below share two tones or three.',
  quartal: 'The same root with a chord that can be laid in fourths.',
};

/** What may stand in a chord's place. */
export interface Substitution {
  readonly rule: SubstitutionRule;
  readonly chord: Chord;
  /** It takes the whole of the chord's time, or the second half of it. */
  readonly part: 'whole' | 'second half';
}

function chord(root: NoteName, type: string): Chord | undefined {
  const read = readChord(nameText(root) + type);
  return read.ok && read.value !== 'no chord' ? read.value : undefined;
}

const degreesOf = ({ tones }: Chord): ReadonlySet<string> =>
  new Set(tones.filter(({ role }) => role !== 'bass').map(({ degree }) => degree));

const isMajor = (of: Chord): boolean => degreesOf(of).has('3') && !degreesOf(of).has('b7');
const isMinor = (of: Chord): boolean => degreesOf(of).has('b3') && degreesOf(of).has('5');
const isDominant = (of: Chord): boolean => degreesOf(of).has('3') && degreesOf(of).has('b7');

const above = (of: Chord, semitones: number): number => chromaOf(chromaOfName(of.root) + semitones);

/** All that may stand for a chord, or lead from it to the next one. */
export function substitutionsOf(
  now: Chord,
  next: Chord | undefined,
  key: Key,
): readonly Substitution[] {
  const found: Substitution[] = [];
  const add = (
    rule: SubstitutionRule,
    root: NoteName,
    type: string,
    part: Substitution['part'] = 'whole',
  ): void => {
    const made = chord(root, type);
    if (made !== undefined && made.symbol !== now.symbol) found.push({ rule, chord: made, part });
  };
  // a flat fifth above, as its root is commonly written
  if (isDominant(now)) {
    const flat = movedByFifths(now.root, -6);
    add('tritone', Math.abs(flat.alter) > 1 ? movedByFifths(now.root, 6) : flat, '7');
  }
  if (next !== undefined) {
    const step = chromaOf(chromaOfName(next.root) - chromaOfName(now.root));
    // upwards it leads by its root as a leading note, downwards its root is the flat of the one before
    if (step === 2) add('passing diminished', movedByFifths(now.root, 7), 'dim7', 'second half');
    if (step === 10) add('passing diminished', movedByFifths(now.root, -7), 'dim7', 'second half');
    const leads = isMajor(next) || isMinor(next) || isDominant(next);
    const dominant = movedByFifths(next.root, 1);
    const already = isDominant(now) && chromaOfName(now.root) === chromaOfName(dominant);
    if (leads && step !== 0 && !already) add('secondary dominant', dominant, '7', 'second half');
  }
  if (isMajor(now)) {
    const type = degreesOf(now).has('7') ? 'm7' : 'm';
    add('relative', rootInKey(above(now, -3), type, key), type);
  }
  if (isMinor(now)) {
    const type = degreesOf(now).has('b7') ? 'maj7' : '';
    add('relative', rootInKey(above(now, 3), type, key), type);
  }
  if (isDominant(now)) add('quartal', now.root, '7sus4');
  else if (isMajor(now)) add('quartal', now.root, '6/9');
  else if (isMinor(now)) add('quartal', now.root, 'm11');
  return found;
}
