/**
 * A tune in its textures as what a MusicXML score is written from: its measures with the form of its piece, cut
 * where something of the steel part begins or ends, or where a chord changes.
 */
import { keyOf } from '$lib/arrange/findKey';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { asWritten } from '$lib/arrange/pieceOf';
import { DEFAULT_METRE, quartersOf, type Bar, type Progression } from '$lib/arrange/progression';
import { soundsAbove } from '$lib/arrange/strike';
import type { TuneMeasure } from '$lib/arrange/tuneMeasures';
import type { Setup } from '$lib/setup/setup';
import { TICKS } from '../ticks';
import { soundingIn, type Struck } from '../staffSteel';
import { tuneForm } from '../tuneForm';
import { fretsOf } from '../tuneTab';
import type { PlayedStep } from './musicXmlNotes';

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

/** By measure: the parts of steps in it, in ticks from its beginning; at a seam nothing goes on from before. */
const partsOf = (measures: readonly TuneMeasure<Struck>[]): Part[][] =>
  soundingIn(measures).map((sounding) =>
    sounding.map(({ step, from, to, goesOn }) => ({
      ...{ step, goesOn },
      from: ticks(from),
      to: ticks(to),
    })),
  );

/** A tune as it is written: what is played alike each time stands there once. */
export function tuneScore(setup: Setup, given: Piece, steps: readonly Struck[]): TuneScore {
  const { piece, measures } = tuneForm(given, steps);
  const whole = quartersOf(piece.metre ?? DEFAULT_METRE);
  const played: PlayedStep[] = [];
  const named = new Set<number>();
  const parts = partsOf(measures);
  let index = 0;
  let going: Bar['slots'][number]['chord'] = 'no chord';
  const bars = measures.map(({ at, lasts, metre, chords }, order): Bar => {
    const length = (lasts * 4) / metre.unit;
    const own = parts[order] ?? [];
    const before = measures[order - 1];
    // what stands before it is not what is played before it
    const isSeam = before !== undefined && Math.abs(before.at + before.lasts - at) > SAME_PLACE;
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
          held:
            isSeam && part === own[0] && part.from === from
              ? []
              : isNew
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
    piece,
  };
}
