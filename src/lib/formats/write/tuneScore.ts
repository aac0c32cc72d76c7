/**
 * A tune in its textures as what a MusicXML score is written from: its measures in the order of playing, cut
 * where something of the steel part begins or ends, or where a chord changes.
 */
import { keyOf } from '$lib/arrange/findKey';
import { SAME_PLACE, type Measure, type Piece } from '$lib/arrange/piece';
import { asWritten } from '$lib/arrange/pieceOf';
import { DEFAULT_METRE, quartersOf, type Bar, type Progression } from '$lib/arrange/progression';
import { soundsAbove, writtenBeats, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import { tuneMeasures, type TuneMeasure } from '$lib/arrange/tuneMeasures';
import type { Setup } from '$lib/setup/setup';
import { TICKS } from '../ticks';
import { fretsOf } from '../tuneTab';
import type { PlayedStep } from './musicXmlNotes';

/** A step as it was solved, or as it is struck. */
type Struck = TuneStep & Partial<Pick<StruckStep, 'strike'>>;

/** All that a score is written from. */
export interface TuneScore {
  readonly progression: Progression;
  readonly played: readonly PlayedStep[];
  /** Slots of the progression, by number among all, above which their chord is named. */
  readonly named: ReadonlySet<number>;
  readonly piece: Piece;
}

const ticks = (quarters: number): number => Math.round(quarters * TICKS);

/** What is played of a step in one measure; it may have begun before. */
interface Part {
  readonly step: Struck;
  readonly from: number;
  readonly to: number;
  readonly goesOn: boolean;
}

/** By measure: the parts of steps in it, in ticks from its beginning; a step ends where the next begins. */
function partsOf(measures: readonly TuneMeasure[], steps: readonly Struck[]): Part[][] {
  const ends = steps.map((step, at) =>
    Math.min(step.onset.at + writtenBeats(step), steps[at + 1]?.onset.at ?? Infinity),
  );
  let first = 0;
  return measures.map(({ at, lasts, metre }) => {
    const inTicks = (beats: number): number => ticks(((beats - at) * 4) / metre.unit);
    while (first < steps.length && (ends[first] as number) <= at + SAME_PLACE) first++;
    const found: Part[] = [];
    for (let each = first; each < steps.length; each++) {
      const step = steps[each] as Struck;
      const begins = step.onset.at;
      if (begins >= at + lasts - SAME_PLACE) break;
      const goesOn = begins < at - SAME_PLACE;
      const from = goesOn ? 0 : inTicks(begins);
      const to = inTicks(Math.min(ends[each] as number, at + lasts));
      if (to > from) found.push({ step, from, to, goesOn });
    }
    return found;
  });
}

/** The measures as they are played: without what only leads from one to another. */
function unrolled(piece: Piece, measures: readonly TuneMeasure[]): Piece {
  let { metre: held = DEFAULT_METRE } = piece;
  return {
    ...piece,
    measures: measures.map(({ measure, metre, lasts, section }): Measure => {
      const { tempos, chords = [], notes = [] } = piece.measures[measure] ?? {};
      const isNew = metre.beats !== held.beats || metre.unit !== held.unit;
      held = metre;
      const length = (lasts * 4) / metre.unit;
      return {
        ...{ chords, notes },
        ...(isNew ? { metre } : {}),
        ...(Math.abs(length - quartersOf(metre)) < SAME_PLACE ? {} : { lasts: length }),
        ...(tempos === undefined ? {} : { tempos }),
        ...(section === undefined ? {} : { section }),
      };
    }),
  };
}

/** A tune, written out as it is played. */
export function tuneScore(setup: Setup, piece: Piece, steps: readonly Struck[]): TuneScore {
  const measures = tuneMeasures(piece, steps);
  const whole = quartersOf(piece.metre ?? DEFAULT_METRE);
  const played: PlayedStep[] = [];
  const named = new Set<number>();
  const parts = partsOf(measures, steps);
  let index = 0;
  let going: Bar['slots'][number]['chord'] = 'no chord';
  const bars = measures.map(({ at, lasts, metre, chords }, order): Bar => {
    const length = (lasts * 4) / metre.unit;
    const own = parts[order] ?? [];
    const changes = chords.map((each) => ({
      from: ticks(((each.at - at) * 4) / metre.unit),
      chord: each.chord,
    }));
    const cuts = [
      ...new Set([
        0,
        ticks(length),
        ...own.flatMap(({ from, to }) => [from, to]),
        ...changes.map(({ from }) => from),
      ]),
    ]
      .filter((place) => place >= 0 && place <= ticks(length))
      .sort((a, b) => a - b);
    const slots = cuts.slice(0, -1).map((from, cut) => {
      const to = cuts[cut + 1] as number;
      const change = changes.findLast((each) => each.from === from);
      if (change !== undefined) {
        going = change.chord;
        named.add(index);
      }
      const part = own.find((each) => each.from <= from && each.to >= to);
      if (part !== undefined) {
        const { hold, strings, tones, way } = part.step;
        const pitches = hold.pitches.map((pitch) => pitch + soundsAbove(part.step));
        const isNew = part.from === from && !part.goesOn;
        const struck = strings.filter(({ reached }) => reached === 'picked');
        played.push({
          ...{ index, tones, neck: hold.neck, strings: hold.strings, pitches },
          ...{ frets: fretsOf(setup, part.step), engaged: way, again: [] },
          held: isNew
            ? hold.strings.filter((each) => struck.every(({ string }) => string !== each))
            : hold.strings,
        });
      }
      index++;
      return { chord: going, share: to - from };
    });
    return { ...(length === whole ? {} : { part: length / whole }), slots };
  });
  const { measures: _measures, remarks: _remarks, ...about } = piece;
  return {
    progression: { ...about, key: piece.key ?? keyOf(asWritten(piece)), bars },
    played,
    named,
    piece: unrolled(piece, measures),
  };
}
