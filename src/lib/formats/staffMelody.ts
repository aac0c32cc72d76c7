/** The tune of a measure as one voice of a staff, with the chord signs above it and the words below. */
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { isPitch } from '$lib/arrange/progression';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import { chordSigns } from '$lib/theory/chordNumber';
import type { ChordSigns } from '$lib/theory/chordSigns';
import type { Pitch } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';
import type { VoiceEvent } from './staffVoice';
import { begins, goesOn, spansOf, type Span } from './write/tuneSpans';

/** A chord sign ends with its quotation mark, and a semicolon begins another line in it. */
export const plain = (text: string): string => text.replace(/[";%\\]/gu, ' ');

const quartersIn = ({ lasts, metre }: TuneMeasure): number => (lasts * 4) / metre.unit;

const pitchOf = (span: Span | undefined): Pitch | undefined => {
  const pitch = span?.note?.pitch;
  return pitch !== undefined && pitch !== 'rest' && isPitch(pitch) ? pitch : undefined;
};

/** The melody of a measure, with the chord signs above it. */
export function melodyOf(
  piece: Piece,
  measure: TuneMeasure,
  key: Key,
  signs: ChordSigns,
  { isHeld, goesOver }: { readonly isHeld: boolean; readonly goesOver: boolean },
) {
  const written = piece.measures[measure.measure] ?? { chords: [], notes: [] };
  const spans = spansOf(written, quartersIn(measure));
  const graces = (place: number): string => {
    const own = written.notes.filter(
      ({ at, lasts, pitch }) =>
        lasts === 0 && Math.abs(at - place) < SAME_PLACE && pitch !== 'rest' && isPitch(pitch),
    );
    return own.length === 0
      ? ''
      : `{${own.map(({ pitch }) => graceName(pitch as Pitch)).join('')}}`;
  };
  const events = spans.map((span, order): VoiceEvent => {
    const pitch = pitchOf(span);
    const named = span.chord === undefined ? [] : chordSigns(span.chord, key, signs);
    return {
      from: span.from,
      to: span.to,
      pitches: pitch === undefined ? [] : [pitch],
      tied: goesOn(span) && (goesOver || order < spans.length - 1),
      held: isHeld && order === 0,
      before: `${named.length === 0 ? '' : `"^${named.map(plain).join(';')}"`}${begins(span) ? graces(span.from) : ''}`,
    };
  });
  const lyrics = spans.filter(begins).map(({ note }) => note?.lyrics ?? []);
  return { events, lyrics };
}

/** Whether the tune's note before a measure is tied into it: a line begins with what is left of the tie. */
export function isTiedInto(
  { measures: written }: Piece,
  measures: readonly TuneMeasure[],
  order: number,
): boolean {
  const [before, own] = [measures[order - 1], measures[order]];
  if (before === undefined || own === undefined) return false;
  // at a repeat another measure is written there than is played
  if (Math.abs(own.at - before.at - before.lasts) > 10 * SAME_PLACE) return false;
  const spans = [before, own].map((each) =>
    spansOf(written[each.measure] ?? { chords: [], notes: [] }, quartersIn(each)),
  );
  const [last, first] = [spans[0]?.at(-1), spans[1]?.[0]];
  if (last === undefined || !goesOn(last)) return false;
  return pitchOf(last) !== undefined && pitchOf(last)?.midi === pitchOf(first)?.midi;
}

const graceName = ({ letter, octave }: Pitch): string =>
  octave >= 5 ? letter.toLowerCase() + "'".repeat(octave - 5) : letter + ','.repeat(4 - octave);

/** Syllables of one verse, `*` for a note without. */
export const wordsText = (
  lyrics: readonly (readonly (string | undefined)[])[],
  verse: number,
): string =>
  lyrics.map((each) => (each[verse] ?? '*').replace(/\s+/gu, '~').replace(/[|_]/gu, '')).join(' ');
