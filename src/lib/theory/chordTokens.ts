/**
 * The parts a chord symbol is made of after its root: how each is written, and what it does.
 */
import {
  addDegree,
  alterDegree,
  setAltered,
  setMajorSeventh,
  setNumber,
  setQuality,
  type ChordDraft,
} from './chordDraft';

export interface Position {
  /** Nothing but brackets stands between the root and here. */
  readonly first: boolean;
  /** Inside brackets, or after a comma or slash: a bare number is an added tone here. */
  readonly aside: boolean;
}

export interface ChordToken {
  /** Sticky. */
  readonly pattern: RegExp;
  /** False, with nothing changed, where the part makes no sense here. */
  readonly apply: (draft: ChordDraft, match: RegExpExecArray, position: Position) => boolean;
}

const FLAT = '[b♭]';
const SHARP = '[#♯]';
const MINUS = '[-−–]';
const NUMBER = '13|11|9|7|6|5|4|3|2';

const sticky = (source: string): RegExp => new RegExp(source, 'uy');
const isFlat = (sign: string | undefined): boolean => /^[b♭\-−–]/u.test(sign ?? '');
const signOf = (sign: string | undefined): string => (!sign ? '' : isFlat(sign) ? 'b' : '#');

const quality =
  (name: ChordDraft['quality']): ChordToken['apply'] =>
  (draft, _match, position) => {
    if (!position.first) return false;
    setQuality(draft, name);
    return true;
  };

function applyMajor(draft: ChordDraft, match: RegExpExecArray, position: Position): boolean {
  const number = match[2] ?? '';
  // The triangle alone means a major seventh; the words and the caret alone a major triad.
  const bare = /[Δ△∆]/u.test(match[1] ?? '') ? '7' : '';
  const wanted = number || bare;
  if (!position.first && (wanted === '' || wanted.startsWith('6'))) return false;
  if (position.first) setQuality(draft, 'major');
  if (wanted === '') return true;
  return wanted.startsWith('6') ? setNumber(draft, wanted) : setMajorSeventh(draft, wanted);
}

function applySus(draft: ChordDraft, match: RegExpExecArray): boolean {
  if (draft.sus.length > 0 || draft.third === undefined) return false;
  const digits = match[1] ?? '4';
  draft.sus = ['2', '4'].filter((digit) => digits.includes(digit));
  return true;
}

function applyAdd(draft: ChordDraft, match: RegExpExecArray): boolean {
  if (match[1]) draft.added.push('7');
  else addDegree(draft, signOf(match[2]), Number(match[3]));
  return true;
}

function applyNo(draft: ChordDraft, match: RegExpExecArray): boolean {
  draft.omitted.push(match[1] ? '1' : signOf(match[2]) + (match[3] ?? ''));
  return true;
}

function applyNumber(draft: ChordDraft, match: RegExpExecArray, position: Position): boolean {
  const number = match[0];
  if (!position.aside) return setNumber(draft, number);
  if (!/^\d+$/u.test(number) || number === '69' || number === '67') return setNumber(draft, number);
  if (number === '7') return setNumber(draft, number);
  addDegree(draft, '', Number(number));
  return true;
}

function applyAugmented(draft: ChordDraft, match: RegExpExecArray, position: Position): boolean {
  if (position.first) setQuality(draft, 'aug');
  else if (match[0].startsWith('+') || draft.numbered) return alterDegree(draft, '#', 5);
  else return false;
  return true;
}

/** In the order they are tried: longer writings stand before the shorter ones they begin with. */
export const TOKENS: readonly ChordToken[] = [
  { pattern: sticky('[Ss]us(2/4|4/2|24|42|2|4)?'), apply: applySus },
  {
    pattern: sticky(`add\\s*(?:(maj7|ma7|M7|Δ7?)|(${FLAT}|${SHARP})?(${NUMBER}))`),
    apply: applyAdd,
  },
  {
    pattern: sticky(`(?:no|omit)\\s*(?:(R|r|root|1(?!\\d))|(${FLAT}|${SHARP})?(${NUMBER}))`),
    apply: applyNo,
  },
  {
    pattern: sticky('7?alt7?'),
    apply: (draft, _match, position) => {
      if (position.first) setAltered(draft);
      return position.first;
    },
  },
  {
    pattern: sticky(
      '([Mm]ajor|[Mm]aj|MAJ|MA|[Mm]a(?!dd|ug)|M(?![Ii])|Δ|△|∆|\\^)\\s*(6/9|69|13|11|9|7|6)?',
    ),
    apply: applyMajor,
  },
  {
    pattern: sticky(`(?:[Mm]inor|[Mm]in|MIN|MI|[Mm]i|m|${MINUS})`),
    apply: (draft, match, position) => quality('minor')(draft, match, position),
  },
  { pattern: sticky('(?:[Dd]iminished|[Dd]im|°|º|0|o(?!mit))'), apply: quality('dim') },
  { pattern: sticky('(?:ø|Ø|half-?dim(?:inished)?|h)7?'), apply: quality('half-dim') },
  {
    pattern: sticky('dom(?:inant)?\\s*(7|9|11|13)?'),
    apply: (draft, match, position) => position.first && setNumber(draft, match[1] ?? '7'),
  },
  { pattern: sticky(`(?:[Aa]ugmented|[Aa]ug|\\+5?(?!\\d))`), apply: applyAugmented },
  {
    pattern: sticky(`(${FLAT}|${SHARP}|\\+|${MINUS})(${NUMBER})`),
    apply: (draft, match, position) => {
      // C+7 and C+9 are augmented chords; C9+11 raises the 11.
      if (position.first && match[1] === '+') {
        setQuality(draft, 'aug');
        return setNumber(draft, match[2] ?? '');
      }
      return alterDegree(draft, isFlat(match[1]) ? 'b' : '#', Number(match[2]));
    },
  },
  { pattern: sticky(`6/9|69|67|${NUMBER}`), apply: applyNumber },
];
