/**
 * A chord by the number of its root in the major scale of the tonic, as players of sessions write it: `1`, `4`,
 * `6-`, `5⁷`; and the choice between letters, numbers and Roman numerals. Common practice of the trade, which
 * has no standard: a minor third is a dash, ° a diminished, ø a half-diminished and + an augmented chord.
 */
import type { Chord } from './chord';
import type { ChordSigns } from './chordSigns';
import { prettySymbol } from './display';
import { numeralOf } from './numeral';
import { LETTERS, chromaOf, chromaOfName, nameText, type NoteName } from './pitch';
import { keyText, type Key } from './spelling';

const MAJOR = [0, 2, 4, 5, 7, 9, 11] as const;
const SIGNS = new Map([
  [-2, '𝄫'],
  [-1, '♭'],
  [0, ''],
  [1, '♯'],
  [2, '𝄪'],
]);
const RAISED = new Map([...'0123456789'].map((digit, at) => [digit, '⁰¹²³⁴⁵⁶⁷⁸⁹'[at] ?? digit]));

/** The degree of a note, counted from the major scale of the tonic, in minor too. */
function degreeOf(name: NoteName, tonic: NoteName): string {
  const step = (LETTERS.indexOf(name.letter) - LETTERS.indexOf(tonic.letter) + 7) % 7;
  const above = chromaOf(chromaOfName(name) - chromaOfName(tonic));
  const off = chromaOf(above - (MAJOR[step] ?? 0) + 6) - 6;
  return `${SIGNS.get(off) ?? ''}${step + 1}`;
}

function qualityOf(type: string): string {
  if (type.startsWith('m7b5')) return `ø⁷${type.slice(4)}`;
  const [sign, rest] = type.startsWith('dim')
    ? ['°', type.slice(3)]
    : type.startsWith('aug')
      ? ['+', type.slice(3)]
      : /^m(?!aj)/.test(type)
        ? ['-', type.slice(1)]
        : ['', type];
  // figures are raised, so that a seventh on the fifth degree is not fifty-seven
  const raised = rest.replace(/^(?:maj)?\d+/, (figures) =>
    figures.replace(/\d/g, (digit) => RAISED.get(digit) ?? digit),
  );
  return `${sign}${prettySymbol(raised)}`;
}

/** What of a chord, or of its name, says its degree; a bass that is the root says nothing. */
type Numbered = Pick<Chord, 'root' | 'type' | 'bass'>;

/** `4`, `6-`, `5⁷`, `1/3`, `♭7maj⁷`. */
export function numberOf({ root, bass, type }: Numbered, { tonic }: Key): string {
  // the type of a chord over another bass is that of what stands before the slash
  const [plain = ''] = type.split('/');
  const under = bass === undefined ? '' : `/${degreeOf(bass, tonic)}`;
  return `${degreeOf(root, tonic)}${qualityOf(plain)}${under}`;
}

/** A chord as a Roman numeral and as a number of the key: `V7, 5⁷ in C`; for beside its letters. */
export function textInKey({ root, bass, type }: Numbered, key: Key): string {
  const [plain = ''] = type.split('/');
  const under = bass !== undefined && nameText(bass) !== nameText(root) ? { bass } : {};
  const chord = { root, type: plain, ...under };
  const numeral = numeralOf(chord, key).text;
  const below = chord.bass === undefined ? '' : `/${degreeOf(chord.bass, key.tonic)}`;
  return `${numeral}${below}, ${numberOf(chord, key)} in ${prettySymbol(keyText(key))}`;
}

/** A chord's signs, one above the other where there are two. */
export function chordSigns(chord: Chord | 'no chord', key: Key, signs: ChordSigns): string[] {
  if (chord === 'no chord') return ['N.C.'];
  const letters = prettySymbol(chord.symbol);
  const numeral = () => {
    const under = chord.bass === undefined ? '' : `/${degreeOf(chord.bass, key.tonic)}`;
    return `${numeralOf(chord, key).text}${under}`;
  };
  switch (signs) {
    case 'letters':
      return [letters];
    case 'numbers':
      return [numberOf(chord, key)];
    case 'numerals':
      return [numeral()];
    case 'letters and numbers':
      return [letters, numberOf(chord, key)];
    case 'letters and numerals':
      return [letters, numeral()];
  }
}
