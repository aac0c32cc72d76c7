/** A melody written apart from its chords: `E4 - F4 | C5`, one note for each chord. */
import type { Told } from '$lib/faults';
import { told } from '$lib/pieceFaults';
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
export interface MelodyFault extends Told {
  readonly piece: Piece;
}

/** Bars whose slots take notes. */
type Taking = readonly { readonly slots: { melody?: MelodyNote }[] }[];

/** Gives notes to slots, one after the other; more notes than slots are a fault, fewer are not. */
function spreadOver(line: Piece, slots: { melody?: MelodyNote }[]): MelodyFault[] {
  const faults: MelodyFault[] = [];
  let index = 0;
  for (const match of line.text.matchAll(/\S+/gu)) {
    const piece = { text: match[0], at: line.at + match.index };
    const slot = slots[index++];
    const note = readMelodyNote(piece.text);
    if (slot === undefined) {
      const text = line.text.slice(match.index).trimEnd();
      faults.push({
        piece: { ...piece, text },
        ...told('melody.tooManyNotes', text, slots.length),
      });
      break;
    }
    if (note === undefined) faults.push({ piece, ...told('melody.inLine', piece.text) });
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
  parts.forEach((part, index) => {
    const bar = bars[index];
    if (bar === undefined) {
      if (index === bars.length)
        faults.push({ piece: part, ...told('melody.tooManyBars', part.text, bars.length) });
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
    ({ piece, ...fault }): ProgressionFault => ({
      where: `melody, place ${String(piece.at + 1)}`,
      ...fault,
      mark: { at: piece.at, length: piece.text.length },
    }),
  );
  return { progression: copy, faults };
}
