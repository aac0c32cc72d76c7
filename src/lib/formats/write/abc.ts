/** A progression in ABC notation (standard 2.1): its melody, or rests that are not shown, under chord symbols. */
import type { Chord } from '$lib/theory/chord';
import { degreeChroma, degreeParts } from '$lib/theory/degrees';
import type { Pitch } from '$lib/theory/pitch';
import { keyText } from '$lib/theory/spelling';
import { keyOf } from '$lib/arrange/findKey';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  isPitch,
  type Bar,
  type Progression,
  type Slot,
} from '$lib/arrange/progression';
import { metreOfPart, reduced } from '$lib/arrange/fractions';
import { slotDuration, valuesOf, type NoteValue } from './noteValues';

const BARS_A_LINE = 4;

/** A field is one line; a chord symbol ends with its quotation mark. */
const plain = (text: string): string => text.replace(/[\r\n"%]+/gu, ' ').trim();

const ACCIDENTALS: Readonly<Record<number, string>> = {
  [-2]: '__',
  [-1]: '_',
  0: '=',
  1: '^',
  2: '^^',
};

/** Every accidental is written out, so that neither signature nor bar has a say. */
function noteText({ letter, alter, octave }: Pitch): string {
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
function chordNames({ bars }: Progression): string[] {
  const types = new Map<string, string>();
  for (const { chord } of bars.flatMap(({ slots }) => slots)) {
    if (chord === 'no chord' || chord.type === '' || chord.type.includes('(')) continue;
    const name = chord.type.replace('/', '');
    const above = chord.tones.flatMap(({ degree, role }) => (role === 'bass' ? [] : [degree]));
    types.set(name, above.map(semitonesAbove).join(' '));
  }
  return [...types].map(([name, semitones]) => `%%MIDI chordname ${name} ${semitones}`);
}

function slotText(slot: Slot, bar: Bar, { metre = DEFAULT_METRE }: Progression): string {
  const values = valuesOf(slotDuration(metre, bar, slot.share));
  const melody =
    slot.melody !== undefined && isPitch(slot.melody) ? noteText(slot.melody) : undefined;
  // no chord is a remark above the note: a player takes every other text for a chord's name
  const symbol = slot.chord === 'no chord' ? '^N.C.' : symbolText(slot.chord);
  const notes = values.map((value, index) => {
    const tie = melody !== undefined && index < values.length - 1 ? '-' : '';
    return `${melody ?? 'x'}${lengthText(value)}${tie}`;
  });
  const { tuplet } = values[0] ?? {};
  const opening = isWritten(tuplet)
    ? `(${String(tuplet.actual)}:${String(tuplet.normal)}:${String(values.length)}`
    : '';
  return `"${symbol}"${opening}${notes.join('')}`;
}

/** The text of a tune with its chords; a key is found where none is given. */
export function writeAbc(progression: Progression): string {
  const { title, tempo = DEFAULT_TEMPO, metre = DEFAULT_METRE, bars } = progression;
  const lines = [
    'X:1',
    `T:${plain(title ?? 'Progression')}`,
    `M:${metre.beats}/${metre.unit}`,
    'L:1/4',
    `Q:1/4=${String(tempo)}`,
    `K:${keyText(keyOf(progression))}`,
    ...chordNames(progression),
  ];
  let line: string[] = [];
  const endLine = (): void => {
    if (line.length > 0) lines.push(`${line.join(' | ')} |`);
    line = [];
  };
  let now = `${metre.beats}/${metre.unit}`;
  for (const [at, bar] of bars.entries()) {
    if (bar.section !== undefined || line.length === BARS_A_LINE) endLine();
    if (bar.section !== undefined) lines.push(`P:${plain(bar.section)}`);
    const own = metreOfPart(metre, bar.part);
    const text = `${own.beats}/${own.unit}`;
    // a pickup is a short bar, and no bar of another metre
    if (text !== now && !(at === 0 && (bar.part ?? 1) < 1)) {
      endLine();
      lines.push(`M:${text}`);
      now = text;
    }
    line.push(bar.slots.map((slot) => slotText(slot, bar, progression)).join(' '));
  }
  endLine();
  return `${lines.join('\n')}\n`;
}
