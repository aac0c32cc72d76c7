/** Splits: a raise and a lower on one string at once, where they come out, and what would mend them. */
import type { Midi } from '$lib/theory/pitch';
import { unreachable } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { centsAbove, partsOf, squareAt, squareOf, type Part, type Place } from '$lib/setup/stretch';
import { offsetAt, sameStop, stopsOf, type Stop } from './stops';
import { savedOffsets, targetHz, type Target } from './targets';

/** A stop that could be retuned so that a split comes right. */
export interface Retune extends Engaged {
  /** By how much it would be moved: sharp where positive. It is off by as much where it is used alone. */
  readonly cents: number;
}

/** A raise and a lower on one string at once. */
export interface Split {
  readonly neck: number;
  readonly string: number;
  readonly engaged: readonly [raise: Engaged, lower: Engaged];
  /** The note that the semitones add up to. */
  readonly midi: Midi;
  /** Where it comes out: cents from equal temperament. */
  readonly cents: number;
  readonly hz: number;
  /** Where it ought to lie, in cents from equal temperament. */
  readonly wanted: number;
  /** A chord decides where it ought to lie; else it is equal temperament, or as a like note lies. */
  readonly decided: boolean;
  /** How far it comes out off the wanted note: sharp where positive. */
  readonly off: number;
  /**
   * A stop of its own sets it. A changer with split stops has one for a full raise with a full lower; with
   * a half-stop, or with another raise than the stop is tuned with, what sounds is left by other stops.
   */
  readonly ownStop: boolean;
  /** One or the other alone would bring it right; nothing where it has a stop of its own. */
  readonly retune: readonly Retune[];
}

/** A stop is not thought of as moved farther than a semitone: there it would be another note. */
const FARTHEST = 100;

/**
 * Every split of a neck that the body can reach, with the stops at `offsets`. `wanted` are targets of
 * split stops, as they would be if the changer had them; what has none is wanted in equal temperament.
 */
export function splitsOf(
  setup: Setup,
  neck: number,
  stops: readonly Stop[],
  offsets: ArrayLike<number>,
  wanted: readonly Target[] = [],
): Split[] {
  const strings = setup.necks[neck - 1]?.strings ?? [];
  const openMidi = (string: number): Midi => strings[string - 1]?.open.midi ?? 0;
  const pulled = stops.filter(
    ({ control, raisedBy }) => control !== null && raisedBy === undefined,
  );
  const way = ({ midi, string }: Stop): number => midi - openMidi(string);
  const targetAt = (place: Place): number =>
    offsets[stops.findIndex((stop) => sameStop(stop, place))] ?? 0;
  return pulled.flatMap((raise) =>
    pulled.flatMap((lower): Split[] => {
      const { string } = raise;
      if (string !== lower.string || way(raise) <= 0 || way(lower) >= 0) return [];
      if (raise.control === null || lower.control === null) return [];
      const engaged = [
        { id: raise.control, state: raise.state },
        { id: lower.control, state: lower.state },
      ] as const;
      if (raise.control === lower.control || unreachable(setup, engaged) !== undefined) return [];
      const midi = raise.midi + way(lower);
      const cents = offsetAt(setup, stops, { neck, string, engaged }, offsets);
      const ideal = wanted.find(
        (target) =>
          target.string === string &&
          target.control === lower.control &&
          target.state === lower.state &&
          target.midi === midi,
      );
      const aim = ideal?.cents ?? 0;
      const parts = partsOf(setup, neck, string, engaged, targetAt);
      const ownStop = parts.length === 1;
      const aimSquare = squareAt(100 * (midi - openMidi(string)) + aim);
      /** The sum of squares that the split sounds, solved for the one of a pull’s own stop. */
      const needed = (moved: Part): Retune[] => {
        const { control, state, raisedBy } = moved.place;
        if (control === null || raisedBy !== undefined || moved.factor !== 1) return [];
        const others = parts.filter((part) => part !== moved);
        const left = aimSquare - squareOf(others, targetAt);
        const by =
          left > 0 ? centsAbove(left) - 100 * moved.semitones - targetAt(moved.place) : Infinity;
        return Math.abs(by) > FARTHEST ? [] : [{ id: control, state, cents: by }];
      };
      return [
        {
          neck,
          string,
          engaged,
          midi,
          cents,
          hz: targetHz(midi, cents, setup.referenceHz),
          wanted: aim,
          decided: ideal !== undefined && ideal.given === undefined,
          off: cents - aim,
          ownStop,
          retune: ownStop ? [] : parts.flatMap(needed),
        },
      ];
    }),
  );
}

/**
 * What a split stop leaves as it comes: the splits of the same string and lower that have no stop of their
 * own, because another raise or a half-stop takes part. They are heard after the stop is tuned, and what
 * they sound cannot be tuned apart.
 */
export const leftBy = (splits: readonly Split[], stop: Place): Split[] =>
  stop.raisedBy === undefined
    ? []
    : splits.filter(
        ({ neck, string, engaged: [, lower], ownStop }) =>
          !ownStop && neck === stop.neck && string === stop.string && lower.id === stop.control,
      );

/** The splits of all necks with the stops where the setup's own targets have them, against equal temperament. */
export const savedSplits = (setup: Setup): Split[] =>
  setup.necks.flatMap((_, index) => {
    const stops = stopsOf(setup, index + 1);
    return splitsOf(setup, index + 1, stops, savedOffsets(setup, stops));
  });
