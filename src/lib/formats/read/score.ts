/**
 * What readers of notation share: bars with chords and melody notes by the time at which they begin,
 * and the progression that these make.
 */
import { told } from '$lib/faults';
import type { Pitch } from '$lib/theory/pitch';
import type { Chord } from '$lib/theory/chord';
import {
  BOUNDS,
  type Bar,
  type Progression,
  type ProgressionFault,
  type ReadProgression,
  type Slot,
} from '$lib/arrange/progression';

/** Ticks of a quarter note: every division by 2 to 16 comes out whole. */
export const TICKS = 720_720;

export interface ScoreChord {
  /** Ticks after the bar's beginning. */
  readonly at: number;
  readonly chord: Chord | 'no chord';
}

export interface ScoreNote {
  readonly at: number;
  readonly length: number;
  readonly pitch: Pitch;
}

export interface ScoreBar {
  /** Ticks, above 0. */
  readonly length: number;
  readonly chords: readonly ScoreChord[];
  /** The tune, lower notes sounding with it among them. */
  readonly notes: readonly ScoreNote[];
  readonly section?: string;
  /** What comes after a repeat goes back to here. */
  readonly repeatFrom?: boolean;
  /** Played this many times in all, from the last `repeatFrom` to the end of this bar. */
  readonly times?: number;
  /** Played only in these passes of a repeat, from 1. */
  readonly passes?: readonly number[];
}

const MOST_TIMES = 16;

/** The bars in the order in which they are played; repeats and their endings are written out. */
export function played(bars: readonly ScoreBar[], most: number): ScoreBar[] {
  const all: ScoreBar[] = [];
  let from = 0;
  let pass = 1;
  let at = 0;
  while (at < bars.length && all.length < most) {
    const bar = bars[at] as ScoreBar;
    if (bar.repeatFrom && at !== from) {
      from = at;
      pass = 1;
    }
    // the endings are over: what comes now is played once, whatever pass it was
    if (bar.passes === undefined && bars[at - 1]?.passes !== undefined) {
      from = Math.max(from, at);
      pass = 1;
    }
    const times = Math.min(bar.times ?? 1, MOST_TIMES);
    const here = bar.passes?.includes(pass) ?? true;
    if (here) all.push(bar);
    const mine = bar.passes === undefined ? times : Math.max(...bar.passes) + 1;
    if (here && times > 1 && pass < mine) {
      pass++;
      at = from;
      continue;
    }
    if (times > 1 && bar.passes === undefined) {
      from = at + 1;
      pass = 1;
    }
    at++;
  }
  return all;
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

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
export type ScoreHead = Omit<Progression, 'bars'>;

/**
 * The chords of a score, each with the note of the tune that sounds as it begins. An upbeat without
 * a chord is left out.
 */
export function progressionOf(
  head: ScoreHead,
  score: readonly ScoreBar[],
  faults: readonly ProgressionFault[],
): ReadProgression {
  const [first, second] = score;
  const upbeat = first?.chords.length === 0 && second !== undefined && first.length < second.length;
  const all = [...faults];
  const bars: Bar[] = [];
  let before: Chord | 'no chord' = 'no chord';
  let slots = 0;
  for (const bar of played(upbeat ? score.slice(1) : score, BOUNDS.slots + 1)) {
    const own = slotsOf(bar, before);
    slots += own.length;
    if (slots > BOUNDS.slots) {
      all.push({
        where: `bar ${String(bars.length + 1)}`,
        ...told('piece.tooManyChords', BOUNDS.slots),
      });
      break;
    }
    before = own.at(-1)?.chord ?? before;
    bars.push({ ...(bar.section === undefined ? {} : { section: bar.section }), slots: own });
  }
  if (
    !bars.some(({ slots: own }) => own.some(({ chord }) => chord !== 'no chord')) &&
    all.length === 0
  )
    all.push({ where: 'the file', ...told('piece.noChordsInScore') });
  return { progression: { ...head, bars }, faults: all };
}

/** The head with what is known; what is outside the bounds of a progression is left out. */
export function headOf(known: {
  readonly title?: string | undefined;
  readonly key?: Progression['key'] | undefined;
  readonly tempo?: number | undefined;
  readonly metre?: Progression['metre'] | undefined;
}): ScoreHead {
  const { key, tempo, metre } = known;
  const title = known.title?.replace(/\s+/gu, ' ').trim();
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
