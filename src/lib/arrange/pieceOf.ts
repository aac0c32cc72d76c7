/**
 * Between a piece in time and a progression, which is a piece unrolled: bars of slots, each with a chord
 * and perhaps the note that is to be on top of it.
 */
import { clocked, orderOf, type Lost } from './inOrder';
import { SAME_PLACE, type Measure, type Piece, type PieceNote, type TempoMark } from './piece';
import {
  BOUNDS,
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  quartersOf,
  type Bar,
  type MelodyNote,
  type Progression,
  type Slot,
} from './progression';

/** A progression as a piece: nothing is lost, and `progressionOf` gives the same back. */
export function pieceOf({ bars, tempos = [], ...about }: Progression): Piece {
  const whole = quartersOf(about.metre ?? DEFAULT_METRE);
  let begins = 0;
  return {
    ...about,
    measures: bars.map(({ section, part = 1, slots }): Measure => {
      const length = whole * part;
      const from = begins;
      begins += length;
      const own = tempos.flatMap(({ at, tempo }) =>
        at > from - SAME_PLACE && at < begins - SAME_PLACE
          ? [{ at: Math.max(0, at - from), tempo }]
          : [],
      );
      const parts = slots.reduce((sum, { share }) => sum + share, 0);
      let before = 0;
      const places = slots.map(({ share }) => {
        const at = (length * before) / parts;
        before += share;
        return { at, lasts: (length * share) / parts };
      });
      return {
        ...(section === undefined ? {} : { section }),
        ...(part === 1 ? {} : { lasts: length }),
        ...(own.length === 0 ? {} : { tempos: own }),
        chords: slots.map(({ chord }, slot) => ({ at: places[slot]?.at ?? 0, chord })),
        notes: slots.flatMap(({ melody: pitch }, slot) => {
          const place = places[slot];
          return pitch === undefined || place === undefined ? [] : [{ ...place, pitch }];
        }),
      };
    }),
  };
}

/** Parts of a length into which all places of a measure fall, at most 96; else the nearest of those. */
function partsOf(places: readonly number[], length: number): number {
  for (let parts = 1; parts < 96; parts++)
    if (places.every((place) => near((place * parts) / length))) return parts;
  return 96;
}

const near = (value: number): boolean => Math.abs(value - Math.round(value)) < SAME_PLACE * 96;

/**
 * A piece unrolled to bars of chords, as they are played. A measure without a change takes on the chord
 * before.
 *
 * @param most measures, at most
 */
export function progressionOf(piece: Piece, most?: number): Progression {
  const { order } = orderOf(piece.measures, most);
  const tempos = temposOf(piece, order);
  return {
    ...aboutOf(piece),
    ...(tempos.length === 0 ? {} : { tempos }),
    bars: barsOf(piece, order),
  };
}

/**
 * The piece as it is played, as far as the chords that a piece may hold go, and the signs that cannot be
 * obeyed; `length` where it is cut.
 */
export function played(piece: Piece): {
  readonly progression: Progression;
  readonly order: readonly number[];
  readonly lost: readonly Lost[];
} {
  const { order, lost } = orderOf(piece.measures);
  const progression = progressionOf(piece);
  let slots = 0;
  const cut = progression.bars.findIndex((bar) => (slots += bar.slots.length) > BOUNDS.slots);
  if (cut < 0) return { progression, order, lost };
  return {
    progression: { ...progression, bars: progression.bars.slice(0, cut) },
    order: order.slice(0, cut),
    lost: [
      ...lost.filter(({ sign }) => sign !== 'length'),
      { measure: order[cut] ?? 0, sign: 'length' },
    ],
  };
}

/** Changes of tempo by their places from the beginning, in quarter notes. */
export function temposOf(piece: Piece, order: readonly number[]): TempoMark[] {
  const lengths = lengthsOf(piece);
  const clocks = clocked(piece);
  let now = piece.tempo ?? DEFAULT_TEMPO;
  let begins = 0;
  const marks: TempoMark[] = [];
  for (const measure of order) {
    for (const { at, tempo } of clocks[measure]?.tempos ?? []) {
      if (tempo !== now) marks.push({ at: begins + at, tempo });
      now = tempo;
    }
    begins += lengths[measure] ?? 0;
  }
  return marks;
}

/** Every measure once, as it is written. */
export const asWritten = (piece: Piece): Progression => ({
  ...aboutOf(piece),
  bars: barsOf(piece, [...piece.measures.keys()]),
});

const aboutOf = ({
  measures: _measures,
  remarks: _remarks,
  ...about
}: Piece): Omit<Piece, 'measures' | 'remarks'> => about;

function barsOf(piece: Piece, order: readonly number[]): Bar[] {
  const whole = quartersOf(piece.metre ?? DEFAULT_METRE);
  const lengths = lengthsOf(piece);
  let going: Slot['chord'] = 'no chord';
  const named = new Set<number>();
  return order.map((measure): Bar => {
    // a section is named where it begins, not each time it is played
    const isFirst = !named.has(measure);
    named.add(measure);
    const { chords, notes, section } = piece.measures[measure] as Measure;
    const length = lengths[measure] ?? whole;
    const changes = chords.filter(({ at }) => at < length - SAME_PLACE);
    const all =
      (changes[0]?.at ?? Infinity) < SAME_PLACE ? changes : [{ at: 0, chord: going }, ...changes];
    going = all.at(-1)?.chord ?? going;
    const parts = partsOf(
      all.map(({ at }) => at),
      length,
    );
    const steps = all.map(({ at }) => Math.round((at * parts) / length));
    const slots = all.map(({ at, chord }, index): Slot => {
      const share = Math.max(1, (steps[index + 1] ?? parts) - (steps[index] ?? 0));
      const melody = soundingAt(notes, at);
      return { chord, share, ...(melody === undefined ? {} : { melody }) };
    });
    return {
      ...(section === undefined || !isFirst ? {} : { section }),
      ...(Math.abs(length - whole) < SAME_PLACE ? {} : { part: length / whole }),
      slots,
    };
  });
}

/** The note that sounds at a place: the melody is one line, of which the latest begun holds. */
function soundingAt(notes: readonly PieceNote[], place: number): MelodyNote | undefined {
  const note = notes.findLast(({ at, lasts }) => at <= place + SAME_PLACE && lasts > 0);
  if (note === undefined || note.pitch === 'rest') return undefined;
  return place < note.at + note.lasts - SAME_PLACE ? note.pitch : undefined;
}

/** Quarter notes that each measure lasts, as written. */
export function lengthsOf({ measures, metre = DEFAULT_METRE }: Piece): number[] {
  let now = metre;
  return measures.map((measure) => {
    now = measure.metre ?? now;
    return measure.lasts ?? quartersOf(now);
  });
}
