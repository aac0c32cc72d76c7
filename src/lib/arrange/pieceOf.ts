/**
 * Between a piece in time and a progression, which is a piece unrolled: bars of slots, each with a chord
 * and perhaps the note that is to be on top of it.
 */
import { inOrder } from './inOrder';
import { SAME_PLACE, type Measure, type Piece } from './piece';
import {
  DEFAULT_METRE,
  quartersOf,
  type Bar,
  type MelodyNote,
  type Progression,
  type Slot,
} from './progression';

/** A progression as a piece: nothing is lost, and `progressionOf` gives the same back. */
export function pieceOf({ bars, ...about }: Progression): Piece {
  const length = quartersOf(about.metre ?? DEFAULT_METRE);
  return {
    ...about,
    measures: bars.map(({ section, slots }): Measure => {
      const parts = slots.reduce((sum, { share }) => sum + share, 0);
      let before = 0;
      const places = slots.map(({ share }) => {
        const at = (length * before) / parts;
        before += share;
        return { at, lasts: (length * share) / parts };
      });
      return {
        ...(section === undefined ? {} : { section }),
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
 * before; a change of metre, a pickup and tempos within have no place in a progression, so that bars
 * differ in length only where the piece is asked for its times (`inOrder`).
 *
 * @param most measures, at most
 */
export function progressionOf(piece: Piece, most?: number): Progression {
  const { measures: order } = inOrder(piece, most);
  const { measures, ...about } = piece;
  let going: Slot['chord'] = 'no chord';
  const bars = order.map(({ measure, lasts }): Bar => {
    const { chords, notes, section } = measures[measure] as Measure;
    // beats of the metre there, over its unit: only the proportions count below
    const length = quartersIn(piece, measure, lasts);
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
      const melody = notes.find((note) => Math.abs(note.at - at) < SAME_PLACE && note.lasts > 0);
      const pitch: MelodyNote | undefined =
        melody === undefined || melody.pitch === 'rest' ? undefined : melody.pitch;
      return { chord, share, ...(pitch === undefined ? {} : { melody: pitch }) };
    });
    return { ...(section === undefined ? {} : { section }), slots };
  });
  return { ...about, bars };
}

/** Quarter notes of a played measure of so many beats. */
function quartersIn({ measures, metre }: Piece, measure: number, beats: number): number {
  let now = metre ?? DEFAULT_METRE;
  for (let at = 0; at <= measure; at++) now = measures[at]?.metre ?? now;
  return (beats * 4) / now.unit;
}
