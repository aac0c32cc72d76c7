/**
 * A piece in ABC notation (standard 2.1): every measure once with the signs of its form, the tune with
 * its words under the chord symbols, or rests that are not shown where there is none.
 */
import type { Chord } from '$lib/theory/chord';
import { degreeChroma, degreeParts } from '$lib/theory/degrees';
import type { Pitch } from '$lib/theory/pitch';
import { keyText } from '$lib/theory/spelling';
import { keyOf } from '$lib/arrange/findKey';
import { reduced } from '$lib/arrange/fractions';
import { SAME_PLACE, type Measure, type Piece } from '$lib/arrange/piece';
import { asWritten } from '$lib/arrange/pieceOf';
import { twiceAtMost, withCommonEndings } from '$lib/arrange/writtenOut';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  isPitch,
  quartersOf,
  type Metre,
} from '$lib/arrange/progression';
import { TICKS } from '../ticks';
import { abcLineBetween } from './barLine';
import { valuesOf, type NoteValue } from './noteValues';
import { begins, goesOn, spansOf, type Span } from './tuneSpans';

const MEASURES_A_LINE = 4;

/** A field is one line; a chord symbol ends with its quotation mark. */
const plain = (text: string): string => text.replace(/[\r\n"%]+/gu, ' ').trim();

const ACCIDENTALS: Readonly<Record<string, string>> = {
  [-2]: '__',
  [-1]: '_',
  0: '=',
  1: '^',
  2: '^^',
};

/** A note of ABC, `^F`: its accidental is written out, so that neither signature nor measure has a say. */
export function abcNote({ letter, alter, octave }: Pitch): string {
  const accidental = ACCIDENTALS[alter] ?? '=';
  // C is middle C, c the octave above; commas and apostrophes go on from there
  if (octave >= 5) return accidental + letter.toLowerCase() + "'".repeat(octave - 5);
  return accidental + letter + ','.repeat(4 - octave);
}

/** Tuplets of 2 to 9 notes have a sign (ABC 2.1, 4.13); notes of others have their lengths as they are. */
const isWritten = (tuplet: NoteValue['tuplet']): tuplet is NonNullable<NoteValue['tuplet']> =>
  tuplet !== undefined && tuplet.actual <= 9;

/** As a multiple of the unit length, a quarter note; the tuplet is told before it. */
function lengthText({ lasts, tuplet }: NoteValue): string {
  const { actual, normal } = isWritten(tuplet) ? tuplet : { actual: 1, normal: 1 };
  const { parts, over } = reduced(lasts.parts * actual, lasts.over * normal);
  return `${parts === 1 ? '' : String(parts)}${over === 1 ? '' : `/${String(over)}`}`;
}

/** A slash in a chord symbol is before its bass (ABC 2.1, 4.18), so that 6/9 is written 69. */
const symbolText = ({ symbol, type }: Chord): string =>
  plain(symbol.replace(type, type.replace('/', '')));

/** Above the root; 9, 11 and 13 an octave higher. */
const semitonesAbove = (degree: string): number =>
  degreeChroma(degree) + (degreeParts(degree).number > 7 ? 12 : 0);

/**
 * The types of a piece for players that know few of them, which is what the directive
 * `%%MIDI chordname` is for: the name and its semitones above the root. A name ends before a bracket.
 */
function chordNames({ measures }: Piece): string[] {
  const types = new Map<string, string>();
  for (const { chord } of measures.flatMap(({ chords }) => chords)) {
    if (chord === 'no chord' || chord.type === '' || chord.type.includes('(')) continue;
    const name = chord.type.replace('/', '');
    const above = chord.tones.flatMap(({ degree, role }) => (role === 'bass' ? [] : [degree]));
    types.set(name, above.map(semitonesAbove).join(' '));
  }
  return [...types].map(([name, semitones]) => `%%MIDI chordname ${name} ${semitones}`);
}

/** A note, a rest that is seen where there is a tune, or one that is not. */
function spanText(span: Span, isSeen: boolean, grace: string): string {
  const { from, to, chord, note } = span;
  const pitch = note?.pitch;
  const name =
    pitch !== undefined && pitch !== 'rest' && isPitch(pitch) ? abcNote(pitch) : isSeen ? 'z' : 'x';
  const isTied = goesOn(span);
  const values = valuesOf(reduced(Math.round((to - from) * TICKS), TICKS));
  const notes = values.map((value, index) => {
    const tie = note !== undefined && (index < values.length - 1 || isTied) ? '-' : '';
    return `${name}${lengthText(value)}${tie}`;
  });
  const { tuplet } = values[0] ?? {};
  const opening = isWritten(tuplet)
    ? `(${String(tuplet.actual)}:${String(tuplet.normal)}:${String(values.length)}`
    : '';
  // no chord is a remark above the note: a player takes every other text for a chord's name
  const symbol =
    chord === undefined ? '' : `"${chord === 'no chord' ? '^N.C.' : symbolText(chord)}"`;
  return symbol + opening + grace + notes.join('');
}

/** Grace notes that lead to a place. */
function graceText({ notes }: Measure, place: number): string {
  const before = notes.flatMap(({ at, lasts, pitch }) =>
    lasts === 0 && Math.abs(at - place) < SAME_PLACE && pitch !== 'rest' && isPitch(pitch)
      ? [abcNote(pitch)]
      : [],
  );
  return before.length === 0 ? '' : `{${before.join('')}}`;
}

/** The syllables of one verse under a measure's notes, `*` for a note without. */
function wordsText(spans: readonly Span[], verse: number): string {
  const begun = spans.filter(begins);
  // a note in several spans, or of several tied values, takes one syllable
  return begun
    .map(({ note }) => (note?.lyrics?.[verse] ?? '*').replace(/\s+/gu, '~').replace(/[|_]/gu, ''))
    .join(' ');
}

const JUMPS = { beginning: 'D.C.', segno: 'D.S.' } as const;
const UNTIL = { end: '', fine: 'alfine', coda: 'alcoda' } as const;

/** Signs that begin a measure, on its first note, and those on the line that closes it. */
function signsOf({ segno, coda, toCoda, fine, jump }: Measure): [before: string, behind: string] {
  const written = (signs: readonly (string | false)[]): string =>
    signs.flatMap((each) => (each === false ? [] : [`!${each}!`])).join('');
  return [
    written([segno === true && 'segno', coda === true && 'coda']),
    written([
      // the sign stands twice: where the way to the coda leaves, and where the coda begins
      toCoda === true && 'coda',
      fine === true && 'fine',
      jump !== undefined && `${JUMPS[jump.to]}${UNTIL[jump.until]}`,
    ]),
  ];
}

/** The text of a tune with its chords; a key is found where none is given. */
export function writeAbc(given: Piece): string {
  const piece = twiceAtMost(withCommonEndings(given));
  const { title, tempo = DEFAULT_TEMPO, metre = DEFAULT_METRE, measures } = piece;
  const lines = [
    'X:1',
    `T:${plain(title ?? 'Progression')}`,
    `M:${metreText(metre)}`,
    'L:1/4',
    `Q:1/4=${String(tempo)}`,
    `K:${keyText(keyOf(asWritten(piece)))}`,
    ...chordNames(piece),
  ];
  const verses = Math.max(
    0,
    ...measures.flatMap(({ notes }) => notes.map(({ lyrics = [] }) => lyrics.length)),
  );
  const hasTune = measures.some(({ notes }) => notes.some(({ lasts }) => lasts > 0));
  let line = '';
  let words: string[][] = [];
  let count = 0;
  let now = metre;
  const endLine = (): void => {
    if (line !== '') lines.push(line.trim());
    for (let verse = 0; verse < verses && line !== ''; verse++)
      lines.push(`w: ${words.map((each) => each[verse] ?? '').join(' | ')}`);
    [line, words, count] = ['', [], 0];
  };
  measures.forEach((measure, at) => {
    const before = measures[at - 1];
    const next = measures[at + 1];
    if (count === MEASURES_A_LINE || measure.section !== undefined) endLine();
    if (measure.section !== undefined) lines.push(`P:${plain(measure.section)}`);
    if (measure.metre !== undefined) {
      now = measure.metre;
      endLine();
      lines.push(`M:${metreText(now)}`);
    }
    const length = measure.lasts ?? quartersOf(now);
    const spans = spansOf(measure, length);
    const [first, behind] = signsOf(measure);
    const tempos = (measure.tempos ?? []).map((mark) => `[Q:1/4=${String(mark.tempo)}]`).join('');
    // readers drop a sign on a rest that is not seen
    const notes = spans.map((span, index) =>
      spanText(span, hasTune || (first !== '' && index === 0), graceText(measure, span.from)),
    );
    const opens = at === 0 && (measure.repeats === true || measure.endings !== undefined);
    line += `${opens ? `${abcLineBetween(before, measure)} ` : ''}${tempos}${first}${notes.join(' ')} ${behind}${abcLineBetween(measure, next)} `;
    words.push(Array.from({ length: verses }, (_, verse) => wordsText(spans, verse)));
    count++;
  });
  endLine();
  return `${lines.join('\n')}\n`;
}

const metreText = ({ beats, unit }: Metre): string => `${beats}/${unit}`;
