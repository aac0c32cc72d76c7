/**
 * The melody of a MIDI file as notes of a piece: its highest voice, at the places and lengths that notation would
 * give it, in the measures of the piece that it goes with.
 */
import { orderOf } from '$lib/arrange/inOrder';
import { SAME_PLACE, type Measure, type Piece, type PieceNote } from '$lib/arrange/piece';
import { lengthsOf } from '$lib/arrange/pieceOf';
import type { NotTaken } from '$lib/arrange/progression';
import { writtenWhereAlike } from '$lib/arrange/writtenOut';
import type { Pitch } from '$lib/theory/pitch';
import { TICKS } from '../ticks';
import type { MidiTune } from './midi';
import type { ScoreNote } from './score';

/** A note in quarter notes from the beginning. */
interface Sung {
  readonly at: number;
  readonly lasts: number;
  readonly pitch: Pitch;
}

/** Quarter notes by which a hand holds a note into the next; what begins under a higher one that lasts longer is none. */
const OVERLAP = 0.2;

/** The highest voice: notes that begin together give the highest, and one under a higher that goes on is left out. */
function topVoice(notes: readonly ScoreNote[]): Sung[] {
  const voice: Sung[] = [];
  const ordered = [...notes].sort((a, b) => a.at - b.at || b.pitch.midi - a.pitch.midi);
  for (const { at: ticks, length, pitch } of ordered) {
    const note = { at: ticks / TICKS, lasts: length / TICKS, pitch };
    const before = voice.at(-1);
    if (before === undefined) {
      voice.push(note);
      continue;
    }
    const under = before.at + before.lasts - note.at;
    const isUnder = before.pitch.midi > pitch.midi && under > OVERLAP;
    const together = note.at - before.at < TOGETHER;
    if (isUnder || (together && before.pitch.midi >= pitch.midi)) continue;
    if (together) voice.pop();
    else if (under > 0) voice[voice.length - 1] = { ...before, lasts: note.at - before.at };
    voice.push(note);
  }
  return voice;
}

/** Players strike what is together a little apart; in quarter notes. */
const TOGETHER = 1 / 24;
/** Parts of a quarter note that notes begin at, the plainest first, and how far off they may be played. */
const GRIDS: readonly (readonly [parts: number, off: number])[] = [
  [1, 0.06],
  [2, 0.06],
  [3, 0.05],
  [4, 0.06],
  [6, 0.02],
  [8, 0.02],
  [12, 0.01],
];
/** What comes so much before a quarter note belongs to it. */
const EARLY = 0.06;
/** Where none of them fits. */
const ELSE = 4;

/** Places in quarter notes as notation has them: in each quarter note the plainest division that fits. */
function written(places: readonly number[]): (place: number) => number {
  const inQuarter = new Map<number, number[]>();
  for (const place of places) {
    const quarter = Math.floor(place + EARLY);
    inQuarter.set(quarter, [...(inQuarter.get(quarter) ?? []), place - quarter]);
  }
  return (place) => {
    const quarter = Math.floor(place + EARLY);
    const own = inQuarter.get(quarter) ?? [];
    const [parts] = GRIDS.find(([each, off]) =>
      own.every((at) => Math.abs(at - Math.round(at * each) / each) <= off),
    ) ?? [ELSE];
    return quarter + Math.round((place - quarter) * parts) / parts;
  };
}

/** A rest shorter than this between two notes is how they are parted, and none that is written. */
const LEAST_REST = 0.3;

/** The voice as notation has it. */
function notated(voice: readonly Sung[]): Sung[] {
  const place = written(voice.map(({ at }) => at));
  const begun = voice.map((note) => ({ ...note, from: place(note.at) }));
  return begun.flatMap(({ at, lasts, pitch, from }, index): Sung[] => {
    const next = begun.find((each, later) => later > index && each.from > from + SAME_PLACE);
    // two that come to one place: the later of them is what is heard on
    if (begun[index + 1] !== undefined && next !== begun[index + 1]) return [];
    const ends = at + lasts;
    const end =
      next !== undefined && next.at - ends < LEAST_REST
        ? next.from
        : Math.max(from + 1 / 4, Math.round(ends * 4) / 4);
    return [{ at: from, lasts: Math.min(end, next?.from ?? Infinity) - from, pitch }];
  });
}

/** What lies of the voice between two places, from the first of them; a note that goes on is tied. */
function within(voice: readonly Sung[], from: number, to: number): PieceNote[] {
  return voice.flatMap(({ at, lasts, pitch }): PieceNote[] => {
    const [begins, ends] = [Math.max(at, from), Math.min(at + lasts, to)];
    if (ends - begins < SAME_PLACE) return [];
    const goesOn = at + lasts > to + SAME_PLACE;
    return [{ at: begins - from, lasts: ends - begins, pitch, ...(goesOn ? { tied: true } : {}) }];
  });
}

/**
 * A piece with the melody of a MIDI file, every note of it, which begins where the piece does. A part whose passes
 * have different notes is written out.
 */
export function withMelodyOf(
  piece: Piece,
  tune: MidiTune,
): { readonly piece: Piece; readonly notTaken: readonly NotTaken[] } {
  const { order } = orderOf(piece.measures);
  const lengths = lengthsOf(piece);
  const voice = notated(topVoice(tune.notes));
  let reached = 0;
  const notes = order.map((measure) => {
    const from = reached;
    reached += lengths[measure] ?? 0;
    return within(voice, from, reached);
  });
  const isLike = (at: number, first: number): boolean =>
    JSON.stringify(notes[at]) === JSON.stringify(notes[first]);
  const form = writtenWhereAlike(piece, order, isLike);
  const behind = voice.filter(({ at }) => at >= reached - SAME_PLACE).length;
  const { tempo = piece.tempo } = tune;
  return {
    piece: {
      ...form.piece,
      ...(piece.tempo === undefined && tempo !== undefined ? { tempo } : {}),
      measures: form.piece.measures.map((measure, at): Measure => {
        const own = form.played[at];
        return own === undefined ? measure : { ...measure, notes: notes[own] ?? [] };
      }),
    },
    notTaken:
      behind === 0
        ? []
        : [
            {
              where: '',
              words: `${behind === 1 ? 'one note of the tune lies' : `${behind} notes of the tune lie`} behind the last measure of the chords, and ${behind === 1 ? 'is' : 'are'} left out`,
            },
          ],
  };
}
