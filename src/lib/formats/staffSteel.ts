/** The steel part of a tune as one voice of a staff: what sounds in which measure, held over bar lines too. */
import { SAME_PLACE } from '$lib/arrange/piece';
import { soundsAbove, writtenBeats, type Strike, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import type { PlacedStep, TuneMeasure } from '$lib/arrange/tuneMeasures';
import { spelled } from '$lib/theory/toneNames';
import { ROLLED, type VoiceEvent } from './staffVoice';

/** A step as it was solved, or as it is struck. */
export type Struck = TuneStep & Partial<Pick<StruckStep, 'strike'>>;

/** How a strike is written at each stroke: an arpeggio, or short. */
const STRUCK: Partial<Record<Strike, string>> = { rolled: ROLLED, chop: '.' };
/** And in words where notation has no sign, where it begins. */
const WORDS: Partial<Record<Strike, string>> = {
  pad: '"_pad"',
  harmonic: '"_harm."',
  twelfth: '"_harm. 12th"',
  fifteenth: '"_harm. 15ma"',
};
const AS_USUAL = '"_as usual"';

/** The sign of a step's strike; what is not struck anew has none. */
function signOf({ strike, strings }: Struck): string | undefined {
  const picked = strings.filter(({ reached }) => reached === 'picked').length;
  // one string alone is not rolled
  const isStruck = picked > (strike === 'rolled' ? 1 : 0);
  return strike !== undefined && isStruck ? STRUCK[strike] : undefined;
}

/** The words of a strike that begins, or of the end of one that has words. */
function wordsOf(strike: Strike | undefined, before: Strike | undefined): string {
  if (strike === before) return '';
  const words = strike === undefined ? undefined : WORDS[strike];
  if (words !== undefined) return words;
  return before === undefined || WORDS[before] === undefined ? '' : AS_USUAL;
}

/** A step where it sounds in a measure, in quarter notes from its beginning. */
export interface Sounding {
  readonly step: Struck;
  readonly index: number;
  readonly from: number;
  readonly to: number;
  /** It began in a measure before. */
  readonly goesOn: boolean;
  /** It sounds on in the next measure. */
  readonly tied: boolean;
  /** It is reached without a stroke from here to the next. */
  readonly bound: boolean;
}

/** By measure: the steps that sound in it, those too that were struck in one before. */
export function soundingIn(measures: readonly TuneMeasure<Struck>[]): Sounding[][] {
  let held: { readonly step: Struck; readonly index: number } | undefined;
  /** Whether a measure is followed by the one that is played after it: at a repeat another is written there. */
  const goesOnFrom = (order: number): boolean => {
    const [own, next] = [measures[order], measures[order + 1]];
    return (
      own !== undefined &&
      next !== undefined &&
      Math.abs(next.at - own.at - own.lasts) < 10 * SAME_PLACE
    );
  };
  const firstAfter = (order: number): PlacedStep<Struck> | undefined => {
    if (!goesOnFrom(order)) return undefined;
    return measures[order + 1]?.steps[0] ?? firstAfter(order + 1);
  };
  return measures.map(({ at: start, lasts, metre, steps }, order): Sounding[] => {
    const quarters = (beats: number): number => ((beats - start) * 4) / metre.unit;
    const all = held === undefined ? steps : [held, ...steps];
    held = undefined;
    return all.flatMap(({ step, index }, each): Sounding[] => {
      const next = all[each + 1] ?? firstAfter(order);
      const { at } = step.onset;
      const stops = Math.min(at + writtenBeats(step), next?.step.onset.at ?? Infinity);
      const tied = stops > start + lasts + SAME_PLACE && goesOnFrom(order);
      if (tied) held = { step, index };
      const from = Math.max(0, quarters(at));
      const to = quarters(Math.min(stops, start + lasts));
      if (to - from < 1e-4) return [];
      const bound =
        !tied &&
        next !== undefined &&
        next.step.hold.strings.every(
          (string) => next.step.strings.find((own) => own.string === string)?.reached !== 'picked',
        );
      return [{ step, index, from, to, goesOn: at < start - SAME_PLACE, tied, bound }];
    });
  });
}

/** A sign above the steel part, where no melody stands above it. */
export interface Sign {
  readonly at: number;
  readonly text: string;
}

/**
 * The steel part of a measure; what it rests is written, and it is cut where a sign stands.
 *
 * @param strikeBefore of what is written before it
 */
export function steelOf(
  sounding: readonly Sounding[],
  length: number,
  signs: readonly Sign[],
  strikeBefore: Strike | undefined,
): { readonly events: VoiceEvent[]; readonly indexes: (number | undefined)[] } {
  const events: VoiceEvent[] = [];
  const indexes: (number | undefined)[] = [];
  const signAt = (from: number): string =>
    signs
      .filter(({ at }) => Math.abs(at - from) < SAME_PLACE)
      .map(({ text }) => text)
      .join('');
  const add = (event: VoiceEvent, index: number | undefined): void => {
    const cuts = signs
      .map(({ at }) => at)
      .filter((at) => at > event.from + SAME_PLACE && at < event.to - SAME_PLACE);
    const places = [event.from, ...new Set(cuts), event.to];
    places.slice(0, -1).forEach((from, part) => {
      const isLast = part === places.length - 2;
      events.push({
        ...event,
        from,
        to: places[part + 1] as number,
        before: `${signAt(from)}${part === 0 ? (event.before ?? '') : ''}`,
        ...(isLast ? {} : { tied: event.pitches.length > 0, slurred: event.slurred === true }),
      });
      indexes.push(part === 0 ? index : undefined);
    });
  };
  let reached = 0;
  let strike = strikeBefore;
  const rest = (to: number): void => {
    if (to - reached >= 1e-4) add({ from: reached, to, pitches: [] }, undefined);
  };
  for (const { step, index, from, to, goesOn: isLater, tied, bound } of sounding) {
    rest(from);
    const pitches = [...step.hold.pitches]
      .sort((a, b) => a - b)
      .filter((pitch, each, all) => all.indexOf(pitch) === each)
      .map((midi) => spelled(step.tones, midi + soundsAbove(step)));
    const sign = isLater ? '' : wordsOf(step.strike, strike) + (signOf(step) ?? '');
    ({ strike } = step);
    add(
      { from, to, pitches, tied, slurred: bound, ...(sign === '' ? {} : { before: sign }) },
      isLater ? undefined : index,
    );
    reached = to;
  }
  rest(length);
  return { events, indexes };
}
