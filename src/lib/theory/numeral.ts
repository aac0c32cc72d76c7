/**
 * A chord as a degree of a key, in Roman numerals: capitals for a major third, small letters for a
 * minor one, ° and ø for diminished and half-diminished. Numbers without a sign are the degrees of
 * the key's own scale, the natural one in minor. Common practice of tonal harmony.
 */
import { prettySymbol, spokenType } from './display';
import { LETTERS, chromaOf, chromaOfName, type NoteName } from './pitch';
import type { Key } from './spelling';

export interface Numeral {
  /** `ii7`, `♭VII`, `viiø7`. */
  readonly text: string;
  /** `two minor seventh`. */
  readonly spoken: string;
}

const SCALES: Readonly<Record<Key['mode'], readonly number[]>> = {
  major: [0, 2, 4, 5, 7, 9, 11],
  minor: [0, 2, 3, 5, 7, 8, 10],
};
const ROMAN = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'] as const;
const NUMBERS = ['one', 'two', 'three', 'four', 'five', 'six', 'seven'] as const;
const SIGNS: Readonly<Record<number, readonly [text: string, spoken: string]>> = {
  [-2]: ['𝄫', 'double flat '],
  [-1]: ['♭', 'flat '],
  0: ['', ''],
  1: ['♯', 'sharp '],
  2: ['𝄪', 'double sharp '],
};

/** How a type goes on after its numeral, and whether that is written small. */
function ending(type: string): readonly [small: boolean, rest: string] {
  if (type.startsWith('dim')) return [true, `°${type.slice(3)}`];
  if (type.startsWith('m7b5')) return [true, `ø7${type.slice(4)}`];
  if (/^m(?!aj)/.test(type)) return [true, type.slice(1)];
  if (type.startsWith('aug')) return [false, `+${type.slice(3)}`];
  return [false, type];
}

/** The numeral of a chord; its root is spelled as the key spells it. */
export function numeralOf(
  { root, type }: { readonly root: NoteName; readonly type: string },
  { tonic, mode }: Key,
): Numeral {
  const step = (LETTERS.indexOf(root.letter) - LETTERS.indexOf(tonic.letter) + 7) % 7;
  const above = chromaOf(chromaOfName(root) - chromaOfName(tonic));
  const off = chromaOf(above - (SCALES[mode][step] ?? 0) + 6) - 6;
  const [small, rest] = ending(type);
  // the raised leading note bears the diminished chords of minor, and needs no sign there
  const leading = mode === 'minor' && step === 6 && off === 1 && /^[°ø]/.test(rest);
  const [sign, spokenSign] = leading ? ['', ''] : (SIGNS[off] ?? ['', '']);
  const roman = ROMAN[step] ?? 'I';
  return {
    text: `${sign}${small ? roman.toLowerCase() : roman}${prettySymbol(rest)}`,
    spoken: `${spokenSign}${NUMBERS[step] ?? ''} ${spokenType(type)}`,
  };
}
