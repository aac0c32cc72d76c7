/** A melody written apart from its chords: `E4 - F4 | C5`, one note for each chord. */
import { nameText, parseNoteName, parsePitch, pitchText } from '$lib/theory/pitch';
import {
  isPitch,
  withSlots,
  type MelodyNote,
  type Progression,
  type ProgressionFault,
} from './progression';

/** `E4`, `E` for any octave, `-` for none. */
export function readMelodyNote(text: string): MelodyNote | 'none' | undefined {
  if (/^[-–—_]$/u.test(text)) return 'none';
  return parsePitch(text) ?? parseNoteName(text);
}

/** A melody note as it is read back: `E4`, or `E` where any octave will do. */
export const melodyNoteText = (note: MelodyNote): string =>
  isPitch(note) ? pitchText(note) : nameText(note);

interface Piece {
  readonly text: string;
  readonly at: number;
}

/** A piece of a melody that cannot be used, and what could have stood there. */
export interface MelodyFault {
  readonly piece: Piece;
  readonly allowed: string;
}

/** Bars whose slots take notes. */
type Taking = readonly { readonly slots: { melody?: MelodyNote }[] }[];

const A_NOTE = 'a melody note such as E4, E for any octave, or - for none';

/** Gives notes to slots, one after the other; more notes than slots are a fault, fewer are not. */
function spreadOver(line: Piece, slots: { melody?: MelodyNote }[]): MelodyFault[] {
  const faults: MelodyFault[] = [];
  let place = 0;
  for (const match of line.text.matchAll(/\S+/gu)) {
    const piece = { text: match[0], at: line.at + match.index };
    const slot = slots[place++];
    const note = readMelodyNote(piece.text);
    if (slot === undefined) {
      const allowed = `${slots.length === 1 ? 'one note' : `${slots.length} notes`} here, one for each chord`;
      faults.push({ piece: { ...piece, text: line.text.slice(match.index).trimEnd() }, allowed });
      break;
    }
    if (note === undefined) faults.push({ piece, allowed: A_NOTE });
    else if (note === 'none') delete slot.melody;
    else slot.melody = note;
  }
  return faults;
}

/**
 * Gives the notes of a line to the slots of bars: bar by bar where the line has bar lines, else one
 * after the other.
 */
export function spreadMelody(line: Piece, bars: Taking): MelodyFault[] {
  if (!line.text.includes('|'))
    return spreadOver(
      line,
      bars.flatMap(({ slots }) => slots),
    );
  const faults: MelodyFault[] = [];
  const parts: Piece[] = [];
  let at = line.at;
  for (const text of line.text.split('|')) {
    parts.push({ text, at });
    at += text.length + 1;
  }
  // bar lines at either end stand for themselves
  if (parts[0]?.text.trim() === '') parts.shift();
  if (parts.at(-1)?.text.trim() === '') parts.pop();
  parts.forEach((part, place) => {
    const bar = bars[place];
    if (bar === undefined) {
      if (place === bars.length) {
        const allowed = `${bars.length === 1 ? 'one bar' : `${bars.length} bars`} of melody, as there are of chords`;
        faults.push({ piece: part, allowed });
      }
    } else faults.push(...spreadOver(part, bar.slots));
  });
  return faults;
}

/** The same piece with the melody of a text; what cannot be used is told. */
export function withMelody(
  progression: Progression,
  text: string,
): { readonly progression: Progression; readonly faults: readonly ProgressionFault[] } {
  const copy = withSlots(progression, (slot) => ({ ...slot }));
  const bars = copy.bars as unknown as Taking;
  const oneLine = text.replace(/[\r\n]/gu, ' ');
  const faults = spreadMelody({ text: oneLine, at: 0 }, bars).map(
    ({ piece, allowed }): ProgressionFault => ({
      where: `melody, place ${String(piece.at + 1)}`,
      found: piece.text.trim() === '' ? 'nothing' : `“${piece.text.trim()}”`,
      allowed,
      mark: { at: piece.at, length: piece.text.length },
    }),
  );
  return { progression: copy, faults };
}
