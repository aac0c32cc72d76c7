/**
 * What readers of notation share: bars with chords and melody notes by the time at which they begin,
 * and the progression that these make.
 */
import { told } from '$lib/pieceFaults';
import type { Pitch } from '$lib/theory/pitch';
import type { Chord } from '$lib/theory/chord';
import { TICKS } from '../ticks';
import { divisor } from '$lib/arrange/fractions';
import { orderOf } from '$lib/arrange/inOrder';
import { temposOf } from '$lib/arrange/pieceOf';
import { LOST, SAME_PLACE, type Measure, type Piece } from '$lib/arrange/piece';
import {
  BOUNDS,
  DEFAULT_METRE,
  quartersOf,
  type Bar,
  type Progression,
  type ProgressionFault,
  type ReadProgression,
  type Slot,
} from '$lib/arrange/progression';

export interface ScoreChord {
  /** Ticks after the bar's beginning. */
  readonly at: number;
  readonly chord: Chord | 'no chord';
}

/** A note of the tune, or one sounding with it. */
export interface ScoreNote {
  readonly at: number;
  /** 0 for a grace note. */
  readonly length: number;
  readonly pitch: Pitch;
  /** It goes on into the next note of its pitch. */
  readonly tied?: boolean;
  readonly slurred?: boolean;
  /** Syllables by verse. */
  readonly lyrics?: readonly (string | undefined)[];
}

/** A bar as the score has it, with the signs of a piece's measure. */
export interface ScoreBar extends Pick<
  Measure,
  'metre' | 'key' | 'section' | 'segno' | 'coda' | 'toCoda' | 'fine' | 'jump' | 'words'
> {
  /** Ticks, above 0. */
  readonly length: number;
  readonly chords: readonly ScoreChord[];
  /** The tune, lower notes sounding with it among them. */
  readonly notes: readonly ScoreNote[];
  readonly tempos?: readonly { readonly at: number; readonly tempo: number }[];
  /** A section begins here, to which the next repeat goes back. */
  readonly repeatFrom?: boolean;
  /** The section is played this many times in all, and ends with this bar or with its endings. */
  readonly times?: number;
  /** Played only in these passes of a repeat, from 1. */
  readonly passes?: readonly number[];
}

const quarters = (ticks: number): number => ticks / TICKS;

/** The top line of what sounds: of notes that begin together the highest. */
function topNotes(notes: readonly ScoreNote[]): readonly ScoreNote[] {
  const top = new Map<string, ScoreNote>();
  for (const note of notes) {
    // a grace note stands before the note that it leads to, at the same place
    const place = `${String(note.at)} ${note.length === 0 ? 'grace' : ''}`;
    const other = top.get(place);
    if (other === undefined || other.pitch.midi < note.pitch.midi) top.set(place, note);
  }
  return [...top.values()].sort((a, b) => a.at - b.at || a.length - b.length);
}

/** The score as a piece: the top line is its melody, and every bar is there once. */
function pieceOfScore(head: ScoreHead, bars: readonly ScoreBar[]): Piece {
  let metre = head.metre ?? DEFAULT_METRE;
  return {
    ...head,
    measures: bars.map(({ length, chords, notes, tempos, repeatFrom, times, passes, ...signs }) => {
      metre = signs.metre ?? metre;
      const whole = quartersOf(metre);
      return {
        ...signs,
        ...(Math.abs(quarters(length) - whole) < SAME_PLACE ? {} : { lasts: quarters(length) }),
        chords: chords
          .filter(({ at }) => at < length)
          .sort((a, b) => a.at - b.at)
          .map(({ at, chord }) => ({ at: quarters(at), chord })),
        notes: topNotes(notes).map(({ at, length: lasts, pitch, tied, slurred, lyrics }) => ({
          at: quarters(at),
          lasts: quarters(lasts),
          pitch,
          ...(tied === true ? { tied } : {}),
          ...(slurred === true ? { slurred } : {}),
          ...(lyrics === undefined ? {} : { lyrics }),
        })),
        ...(tempos === undefined
          ? {}
          : { tempos: tempos.map(({ at, tempo }) => ({ at: quarters(at), tempo })) }),
        ...(repeatFrom === true ? { repeats: true as const } : {}),
        ...(times === undefined || times < 2 ? {} : { times }),
        ...(passes === undefined ? {} : { endings: passes }),
      };
    }),
  };
}

/** The highest note that sounds at a moment; none where the tune rests. */
export function noteAt(notes: readonly ScoreNote[], at: number): Pitch | undefined {
  let top: Pitch | undefined;
  for (const note of notes)
    if (note.at <= at && at < note.at + note.length && (top?.midi ?? -1) < note.pitch.midi)
      top = note.pitch;
  return top;
}

/** The slots of a bar; a chord that began in an earlier bar goes on. */
function slotsOf(bar: ScoreBar, before: Chord | 'no chord'): Slot[] {
  const starts = new Map<number, Chord | 'no chord'>([[0, before]]);
  for (const { at, chord } of bar.chords)
    if (at < bar.length) starts.set(Math.max(0, Math.round(at)), chord);
  const ordered = [...starts].sort(([a], [b]) => a - b);
  const spans = ordered.map(([at], index) => (ordered[index + 1]?.[0] ?? bar.length) - at);
  const unit = spans.reduce(divisor, 0);
  return ordered.map(([at, chord], index): Slot => {
    const melody = noteAt(bar.notes, at);
    const share = Math.round((spans[index] ?? unit) / unit);
    return { chord, share, ...(melody === undefined ? {} : { melody }) };
  });
}

/** What a score's head says, as far as it says it. */
export type ScoreHead = Omit<Progression, 'bars' | 'tempos'>;

/** Jumps that do not say how the piece ends then, by the signs that there are. */
export function settled(bars: readonly ScoreBar[]): ScoreBar[] {
  const until = bars.some(({ fine }) => fine === true)
    ? 'fine'
    : bars.some(({ toCoda }) => toCoda === true)
      ? 'coda'
      : 'end';
  return bars.map((bar) =>
    bar.jump?.until === 'end' ? { ...bar, jump: { ...bar.jump, until } } : bar,
  );
}

/** What a reader of notation gives: a piece as well. */
export interface ReadPiece extends ReadProgression {
  readonly piece: Piece;
}

/** Parts and tracks with one of these in their name are the tune. */
export const TUNE_NAME = /melod|lead|voc|voice|solo|sopran|tune/iu;

/**
 * The chords of a score in the order in which they are played, each with the note of the tune that
 * sounds as it begins; and the score as a piece. An upbeat without a chord has none to be played.
 */
export function progressionOf(
  head: ScoreHead,
  score: readonly ScoreBar[],
  faults: readonly ProgressionFault[],
): ReadPiece {
  const piece = pieceOfScore(head, score);
  const { order, lost } = orderOf(piece.measures, BOUNDS.slots + 1);
  const all = [...faults];
  for (const { measure, sign } of lost)
    if (sign !== 'length')
      all.push({ where: `measure ${String(measure + 1)}`, ...told('piece.signLost', LOST[sign]) });
  const [first, second] = score;
  const upbeat = first?.chords.length === 0 && second !== undefined && first.length < second.length;
  const whole = quartersOf(head.metre ?? DEFAULT_METRE) * TICKS;
  const bars: Bar[] = [];
  let before: Chord | 'no chord' = 'no chord';
  let slots = 0;
  const named = new Set<number>();
  for (const at of order) {
    const bar = score[at] as ScoreBar;
    // a section is named where it begins, not each time it is played
    const section = named.has(at) ? undefined : bar.section;
    named.add(at);
    if (upbeat && at === 0) continue;
    const own = slotsOf(bar, before);
    slots += own.length;
    if (slots > BOUNDS.slots) {
      all.push({
        where: `measure ${String(bars.length + 1)}`,
        ...told('piece.tooManyChords', BOUNDS.slots),
      });
      break;
    }
    before = own.at(-1)?.chord ?? before;
    bars.push({
      ...(section === undefined ? {} : { section }),
      ...(bar.length === whole ? {} : { part: bar.length / whole }),
      slots: own,
    });
  }
  if (
    !bars.some(({ slots: own }) => own.some(({ chord }) => chord !== 'no chord')) &&
    all.length === 0
  )
    all.push({ where: 'the file', ...told('piece.noChordsInScore') });
  // without the upbeat, the places of the tempos count from the first bar that is played
  const skipped = upbeat ? quarters(first.length) : 0;
  const tempos = temposOf(piece, order).map(({ at, tempo }) => ({
    at: Math.max(0, at - skipped),
    tempo,
  }));
  const about = { ...head, ...(tempos.length === 0 ? {} : { tempos }) };
  return { progression: { ...about, bars }, piece, faults: all };
}

const LONGEST_TITLE = 200;

/** The head with what is known; what is outside the bounds of a progression is left out. */
export function headOf(known: {
  readonly title?: string | undefined;
  readonly key?: Progression['key'] | undefined;
  readonly tempo?: number | undefined;
  readonly metre?: Progression['metre'] | undefined;
}): ScoreHead {
  const { key, tempo, metre } = known;
  const title = known.title?.slice(0, LONGEST_TITLE).replace(/\s+/gu, ' ').trim();
  const units: readonly number[] = BOUNDS.units;
  const metreFits =
    metre !== undefined &&
    metre.beats >= BOUNDS.beats[0] &&
    metre.beats <= BOUNDS.beats[1] &&
    units.includes(metre.unit);
  const tempoFits = tempo !== undefined && tempo >= BOUNDS.tempo[0] && tempo <= BOUNDS.tempo[1];
  return {
    ...(title ? { title } : {}),
    ...(key === undefined ? {} : { key }),
    ...(tempoFits ? { tempo: Math.round(tempo * 100) / 100 } : {}),
    ...(metreFits ? { metre } : {}),
  };
}
