/** A piece as it is played: its measures in order, and when what begins. */
import type { Chord } from '$lib/theory/chord';
import { nameText } from '$lib/theory/pitch';
import { SAME_PLACE, type Measure, type Piece, type PieceNote } from './piece';
import {
  BOUNDS,
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  isPitch,
  quartersOf,
  type MelodyNote,
  type Metre,
} from './progression';

/** When something is, from the start. */
export interface InTime {
  /** In beats of the metre of the moment. */
  readonly at: number;
  readonly lasts: number;
  readonly seconds: number;
  readonly lastsSeconds: number;
}

/** A chord in time. */
export interface Moment extends InTime {
  readonly chord: Chord | 'no chord';
  /** The measure where it begins, as it is written, from 0. */
  readonly measure: number;
  /** Its number among the chords of that measure, from 0. */
  readonly change: number;
}

/** A note in time, all that is tied to it in one. */
export interface PlayedNote extends InTime {
  readonly pitch: MelodyNote;
  readonly grace: boolean;
  readonly slurred: boolean;
}

/** A sign that cannot be obeyed, by the measure where it stands. */
export interface Lost {
  readonly measure: number;
  readonly sign: 'segno' | 'coda' | 'fine' | 'length';
}

export interface InOrder {
  /** Measures as they are played, by their number as written. */
  readonly measures: readonly ({ readonly measure: number } & InTime)[];
  readonly moments: readonly Moment[];
  readonly notes: readonly PlayedNote[];
  readonly lost: readonly Lost[];
  /** In all. */
  readonly beats: number;
  readonly seconds: number;
}

/** How often the part that begins at a measure is played. */
function timesThrough(measures: readonly Measure[], from: number): number {
  let times = 1;
  let inEndings = false;
  for (let at = from; at < measures.length; at++) {
    const { endings, times: stated = 0, repeats } = measures[at] as Measure;
    if (at > from && repeats === true) break;
    if (endings === undefined && inEndings) break;
    times = Math.max(times, stated, ...(endings ?? []));
    if (endings !== undefined) inEndings = true;
    else if (stated > 0) break;
  }
  return times;
}

/** The measures in the order of playing, at most so many; and the signs that lead nowhere. */
export function orderOf(
  measures: readonly Measure[],
  most: number = BOUNDS.slots,
): { readonly order: readonly number[]; readonly lost: readonly Lost[] } {
  const order: number[] = [];
  const lost: Lost[] = [];
  let start = 0;
  let pass = 1;
  let until: 'fine' | 'coda' | 'end' | undefined;
  const begin = (at: number): void => {
    start = at;
    pass = until === undefined ? 1 : timesThrough(measures, at);
  };
  const find = (sign: 'segno' | 'coda'): number =>
    measures.findIndex((each) => each[sign] === true);
  let at = 0;
  let wasEnding = false;
  while (at < measures.length) {
    const measure = measures[at] as Measure;
    const { endings, times = 0 } = measure;
    if (measure.repeats === true && at !== start) begin(at);
    else if (wasEnding && endings === undefined && at !== start) begin(at);
    if (endings !== undefined && !endings.includes(pass)) {
      at++;
      wasEnding = true;
      continue;
    }
    if (order.length === most) {
      lost.push({ measure: at, sign: 'length' });
      break;
    }
    order.push(at);
    wasEnding = endings !== undefined;
    const last = endings === undefined ? Math.max(times, 1) : timesThrough(measures, start);
    if (times > 0 && pass < last && until === undefined) {
      pass++;
      at = start;
      wasEnding = false;
      continue;
    }
    if (until === 'fine' && measure.fine === true) return { order, lost };
    if (until === 'coda' && measure.toCoda === true) {
      const coda = find('coda');
      until = 'end';
      if (coda > at) {
        at = coda;
        begin(at);
        wasEnding = false;
        continue;
      }
      lost.push({ measure: at, sign: 'coda' });
    }
    if (measure.jump !== undefined && until === undefined) {
      const { to, until: asked } = measure.jump;
      const segno = find('segno');
      if (to === 'segno' && segno < 0) lost.push({ measure: at, sign: 'segno' });
      else {
        const signed = asked === 'fine' ? 'fine' : asked === 'coda' ? 'toCoda' : undefined;
        if (signed !== undefined && !measures.some((each) => each[signed] === true))
          lost.push({ measure: at, sign: asked === 'fine' ? 'fine' : 'coda' });
        until = asked;
        at = to === 'segno' ? segno : 0;
        begin(at);
        wasEnding = false;
        continue;
      }
    }
    // a repeated part is over, and what follows is another
    if (times > 0 && endings === undefined) begin(at + 1);
    at++;
  }
  return { order, lost };
}

/** A measure with the metre and the tempos that hold in it. */
export interface Clocked {
  readonly metre: Metre;
  /** Quarter notes. */
  readonly length: number;
  /** The first at 0; quarter notes a minute. */
  readonly tempos: readonly { readonly at: number; readonly tempo: number }[];
}

/** By measure as written: what holds in it does not depend on how it was reached. */
export function clocked({
  measures,
  metre = DEFAULT_METRE,
  tempo = DEFAULT_TEMPO,
}: Piece): Clocked[] {
  let now = metre;
  let speed = tempo;
  return measures.map((measure) => {
    now = measure.metre ?? now;
    const tempos = [{ at: 0, tempo: speed }];
    for (const mark of measure.tempos ?? []) {
      if (mark.at < SAME_PLACE) tempos[0] = { at: 0, tempo: mark.tempo };
      else tempos.push(mark);
      speed = mark.tempo;
    }
    return { metre: now, length: measure.lasts ?? quartersOf(now), tempos };
  });
}

/** Seconds from a measure's beginning to a place in it. */
export const secondsTo = ({ tempos }: Clocked, place: number): number =>
  tempos.reduce((sum, { at, tempo }, mark) => {
    const end = Math.min(place, tempos[mark + 1]?.at ?? Infinity);
    return end > at ? sum + ((end - at) * 60) / tempo : sum;
  }, 0);

const samePitch = (a: MelodyNote, b: MelodyNote): boolean =>
  isPitch(a) && isPitch(b)
    ? a.midi === b.midi
    : isPitch(a) === isPitch(b) && nameText(a) === nameText(b);

/**
 * The piece as it is played, its repeats, endings and jumps obeyed; at most so many measures. A chord
 * lasts until the next one; where the piece begins without one, nothing is to be played.
 */
export function inOrder(piece: Piece, most: number = BOUNDS.slots): InOrder {
  const { order, lost } = orderOf(piece.measures, most);
  const clocks = clocked(piece);
  const measures: (InTime & { measure: number })[] = [];
  const begins: Omit<Moment, 'lasts' | 'lastsSeconds'>[] = [];
  const notes: PlayedNote[] = [];
  /** Notes that go on into the next one of their pitch, by their place in `notes`. */
  let open: number[] = [];
  let beats = 0;
  let seconds = 0;

  const addNote = (note: PieceNote, clock: Clocked): void => {
    const perQuarter = clock.metre.unit / 4;
    const from = secondsTo(clock, note.at);
    const lasts = note.lasts * perQuarter;
    const lastsSeconds = secondsTo(clock, note.at + note.lasts) - from;
    const { pitch } = note;
    if (pitch === 'rest') return;
    // what is tied goes on where it ended; a jump in between begins it anew
    const begun = open.find((each) => {
      const first = notes[each] as PlayedNote;
      const goesOn = Math.abs(first.seconds + first.lastsSeconds - seconds - from) < SAME_PLACE;
      return goesOn && samePitch(first.pitch, pitch);
    });
    if (begun === undefined) {
      if (note.tied === true) open.push(notes.length);
      notes.push({
        pitch,
        at: beats + note.at * perQuarter,
        lasts,
        seconds: seconds + from,
        lastsSeconds,
        grace: note.lasts === 0,
        slurred: note.slurred === true,
      });
      return;
    }
    const first = notes[begun] as PlayedNote;
    notes[begun] = {
      ...first,
      lasts: first.lasts + lasts,
      lastsSeconds: first.lastsSeconds + lastsSeconds,
      slurred: note.slurred === true,
    };
    if (note.tied !== true) open = open.filter((each) => each !== begun);
  };

  for (const measure of order) {
    const written = piece.measures[measure] as Measure;
    const clock = clocks[measure] as Clocked;
    const perQuarter = clock.metre.unit / 4;
    written.chords.forEach(({ at, chord }, change) =>
      begins.push({
        chord,
        measure,
        change,
        at: beats + at * perQuarter,
        seconds: seconds + secondsTo(clock, at),
      }),
    );
    for (const note of written.notes) addNote(note, clock);
    const lasts = clock.length * perQuarter;
    const lastsSeconds = secondsTo(clock, clock.length);
    measures.push({ measure, at: beats, lasts, seconds, lastsSeconds });
    beats += lasts;
    seconds += lastsSeconds;
  }
  const moments = begins.map((moment, index): Moment => {
    const next = begins[index + 1] ?? { at: beats, seconds };
    return {
      ...moment,
      lasts: next.at - moment.at,
      lastsSeconds: next.seconds - moment.seconds,
    };
  });
  return { measures, moments, notes, lost, beats, seconds };
}
