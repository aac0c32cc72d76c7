/**
 * A chord while its symbol is being read: what each part of the symbol changes, and the degrees
 * that come of it all.
 */
import { degreeChroma, degreeParts, inDegreeOrder } from './degrees';

export interface ChordDraft {
  /** `undefined` in a bare fifth. */
  third: '3' | 'b3' | undefined;
  /** Suspended tones, in the third's place. */
  sus: string[];
  /** Perfect until it is altered. */
  fifths: string[];
  sevenths: string[];
  sixth: boolean;
  /** The highest tone of the stack of thirds that a number in the symbol asks for. */
  stack: 0 | 9 | 11 | 13;
  /** Extensions with a sharp or flat; each takes the place of the natural one. */
  altered: string[];
  added: string[];
  omitted: string[];
  /** A number (7, 9, 6 …) has been read. */
  numbered: boolean;
  /** `alt` has been read: its fifth and ninth stand for any altered ones. */
  leavesChoice: boolean;
  quality: '' | 'major' | 'minor' | 'dim' | 'half-dim' | 'aug';
}

/** What a bare letter says: a major triad, to be changed by what follows it. */
export const newDraft = (): ChordDraft => ({
  third: '3',
  sus: [],
  fifths: ['5'],
  sevenths: [],
  sixth: false,
  stack: 0,
  altered: [],
  added: [],
  omitted: [],
  numbered: false,
  leavesChoice: false,
  quality: '',
});

/**
 * Enters the triad that a word such as `m`, `dim` or `aug` says (half-dim its seventh too) into the
 * draft.
 */
export function setQuality(draft: ChordDraft, quality: ChordDraft['quality']): void {
  draft.quality = quality;
  if (quality === 'minor') draft.third = 'b3';
  if (quality === 'aug') draft.fifths = ['#5'];
  if (quality === 'dim' || quality === 'half-dim') {
    draft.third = 'b3';
    draft.fifths = ['b5'];
  }
  if (quality === 'half-dim') draft.sevenths = ['b7'];
}

/** The seventh that a bare number means under each quality. */
const seventhOf = (draft: ChordDraft): string =>
  draft.quality === 'major' ? '7' : draft.quality === 'dim' ? 'bb7' : 'b7';

/** A number after the quality: `7`, `13`, `6/9`. False where the chord cannot take it. */
export function setNumber(draft: ChordDraft, number: string): boolean {
  if (draft.numbered || number === '3') return false;
  if (number === '5' && draft.quality !== '') return false;
  draft.numbered = true;
  if (number === '7' || number === '9' || number === '11' || number === '13') {
    if (draft.sevenths.length === 0) draft.sevenths = [seventhOf(draft)];
    draft.stack = number === '7' ? 0 : (Number(number) as 9 | 11 | 13);
    return true;
  }
  if (number === '6/9' || number === '69') {
    draft.sixth = true;
    draft.added.push('9');
  } else if (number === '67') {
    draft.sevenths = ['b7'];
    draft.added.push('13');
  } else if (number === '6') {
    draft.sixth = true;
  } else if (number === '5') {
    draft.third = undefined;
  } else if (number === '2') {
    draft.added.push('9');
  } else if (draft.quality === 'minor') {
    draft.added.push('11');
  } else {
    draft.sus = ['4'];
  }
  return true;
}

/** A major seventh, alone or with a stack on it: `maj7`, `maj9`. */
export function setMajorSeventh(draft: ChordDraft, number: string): boolean {
  const inDim = draft.quality === 'dim' && draft.sevenths[0] === 'bb7';
  if (draft.sevenths.length > 0 && !inDim) return false;
  draft.sevenths.push('7');
  draft.numbered = true;
  draft.stack = number === '7' ? 0 : (Number(number) as 9 | 11 | 13);
  return true;
}

/** `b5`, `#9` … in a symbol. The second is a ninth and the sharp fourth an eleventh by function. */
export function alterDegree(draft: ChordDraft, sign: 'b' | '#', number: number): boolean {
  const degree = sign + String(number);
  if (number === 5) {
    if (draft.fifths[0] === '5') draft.fifths = [];
    if (!draft.fifths.includes(degree)) draft.fifths.push(degree);
    return true;
  }
  if (number === 7) {
    if (draft.sevenths.length > 0) return false;
    draft.sevenths.push(sign === 'b' ? 'b7' : '7');
    return true;
  }
  if (degree === 'b6') {
    draft.added.push('b6');
    return true;
  }
  if (degree === '#4' || degree === '#11') draft.altered.push('#11');
  else if (number === 2 || number === 9) draft.altered.push(`${sign}9`);
  else if (degree === 'b13') draft.altered.push(degree);
  else return false;
  return true;
}

/** `add9`, `addb13`, `(13)`. A bare 7 is the minor one, as everywhere in chord symbols. */
export function addDegree(draft: ChordDraft, sign: string, number: number): void {
  const octaveUp = number === 2 || number === 4 ? number + 7 : number;
  if (number === 7 && sign === '') draft.added.push('b7');
  else if (number === 7 && sign === '#') draft.added.push('7');
  else draft.added.push(sign + String(octaveUp));
}

/** `7alt`: the tones the theory library gives it, a raised fifth and a raised ninth. */
export function setAltered(draft: ChordDraft): void {
  draft.sevenths = ['b7'];
  draft.fifths = ['#5'];
  draft.altered.push('#9');
  draft.numbered = true;
  draft.leavesChoice = true;
}

function stacked(draft: ChordDraft): string[] {
  if (draft.stack === 0) return [];
  // A 13 does without its 11, as in the theory library and on every instrument; MusicXML's kinds
  // count it in (they are "the basis for alteration"), and say so with a subtracted degree.
  const stack = draft.stack === 9 ? ['9'] : ['9', String(draft.stack)];
  const taken = (natural: string): boolean =>
    draft.altered.some((degree) => degreeParts(degree).number === Number(natural));
  return stack.filter((natural) => !taken(natural));
}

/** A dominant 11 does without its third, which is a semitone from the 11 (so in `tonal`). */
function hasThird(draft: ChordDraft): boolean {
  const dominant11 = draft.stack === 11 && draft.third === '3' && draft.sevenths[0] === 'b7';
  return !dominant11 || draft.altered.includes('#11');
}

/** A ♭13 that is a 7's or 9's only alteration stands for the fifth (`tonal`: 7b13, 9b13). */
function keepsFifth(draft: ChordDraft): boolean {
  const lone = draft.altered.length === 1 && draft.altered[0] === 'b13';
  const dominant = draft.third === '3' && draft.sevenths[0] === 'b7' && draft.sus.length === 0;
  return !(lone && dominant && draft.fifths[0] === '5' && draft.stack < 11);
}

/** `no5` takes away that degree, or where it is not there whatever stands at its number. */
function withoutOmitted(degrees: string[], omitted: readonly string[]): string[] {
  let left = degrees;
  for (const degree of omitted) {
    const { number } = degreeParts(degree);
    const exact = left.includes(degree);
    left = left.filter((d) => (exact ? d !== degree : degreeParts(d).number !== number));
  }
  return left;
}

/** The degrees of the chord that has been read; two that sound the same stay as one. */
export function degreesOf(draft: ChordDraft): string[] {
  const thirds =
    draft.sus.length > 0 ? draft.sus : draft.third && hasThird(draft) ? [draft.third] : [];
  const all = [
    '1',
    ...thirds,
    ...(keepsFifth(draft) ? draft.fifths : []),
    ...(draft.sixth ? ['6'] : []),
    ...draft.sevenths,
    ...stacked(draft),
    ...draft.altered,
  ];
  const sounding = [...withoutOmitted(all, draft.omitted), ...draft.added];
  const byChroma = new Map<number, string>();
  for (const degree of sounding) {
    const chroma = degreeChroma(degree);
    if (!byChroma.has(chroma)) byChroma.set(chroma, degree);
  }
  return inDegreeOrder(byChroma.values());
}
