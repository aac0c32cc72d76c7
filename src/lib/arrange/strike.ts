/**
 * How the right hand strikes what is arranged, and when: patterns of hand and time over the notes and chords
 * of a tune. Which string sounds what stays as it was solved.
 */
import { movesOf } from '$lib/setup/sounding';
import type { Setup } from '$lib/setup/setup';
import { HARMONICS, type Harmonic } from '$lib/search/harmonics';
import { SAME_PLACE, type Piece } from './piece';
import type { Strike } from './strikeNames';
import { tuneMeasures, type TuneMeasure } from './tuneMeasures';
import type { ReachedString, TuneStep } from './tune';

export type { Strike } from './strikeNames';

/** Which pattern where; as the hand usually strikes where none is said. */
export interface Strikes {
  /** Where nothing else is said. */
  readonly strike?: Strike;
  /** Of measures as they are written, from 1, both included, or of a section by its name; the later holds. */
  readonly parts: readonly (
    | { readonly from: number; readonly to: number; readonly strike: Strike }
    | { readonly section: string; readonly strike: Strike }
  )[];
}

/** A step as it is struck. */
export interface StruckStep extends TuneStep {
  /** Its pattern; as usual where left out. */
  readonly strike?: Strike;
  /** The number of the step that it is of, among all that were solved. */
  readonly of: number;
}

/** Quarter notes by which a late strike is late, and in which a bend arrives, at most: the afterbeat of a quarter. */
const AFTERBEAT = 1 / 2;
/** The least: a sixteenth. What leaves no time for it is played in time, for nobody would hear or read it. */
const LEAST = 1 / 4;
/**
 * Of the time to the next stroke, how much a late strike or a bend takes: two thirds are left, so that where
 * notes follow one another most of each still sounds before the next. An eighth gives half of itself.
 */
const OF_TIME = 1 / 3;
/** Of the note itself: it begins while it is written, however long the rest behind it is. */
const OF_NOTE = 1 / 2;
/** Beats that a chop sounds. */
const CHOP = 0.4;

/** The beats that notation gives a step: what is struck short has a whole beat, and a dot that says so. */
export const writtenBeats = ({
  onset,
  strike,
}: TuneStep & Partial<Pick<StruckStep, 'strike'>>): number =>
  strike === 'chop' ? Math.max(1, onset.lasts) : onset.lasts;

/** The pattern of a measure, by its number as written from 0 and the name of its section. */
function strikeOf(
  strikes: Strikes,
  measure: number,
  section: string | undefined,
): Strike | undefined {
  const own = strikes.parts.findLast((part) =>
    'section' in part
      ? part.section.toLowerCase() === section?.toLowerCase()
      : part.from <= measure + 1 && measure + 1 <= part.to,
  );
  return own?.strike ?? strikes.strike;
}

const [OCTAVE, TWELFTH, FIFTEENTH] = HARMONICS;

/** The harmonic that is touched in a pattern; none in most. */
export function harmonicOf(strike: Strike | undefined): Harmonic | undefined {
  if (strike === 'harmonic') return OCTAVE;
  if (strike === 'twelfth') return TWELFTH;
  return strike === 'fifteenth' ? FIFTEENTH : undefined;
}

/** Semitones by which all that a step strikes sounds above its strings' pitches. */
export const soundsAbove = ({ strike }: { readonly strike?: Strike }): number =>
  harmonicOf(strike)?.semitones ?? 0;

/** By measure as it is written, from 0: the semitones that what is touched sounds above what the bar stops. */
export function harmonicIn(piece: Piece, strikes: Strikes | undefined): readonly number[] {
  if (strikes === undefined) return [];
  return sectionsOf(piece).map((section, at) => {
    const strike = strikeOf(strikes, at, section);
    return strike === undefined ? 0 : soundsAbove({ strike });
  });
}

/** A step that is to be touched; struck as usual where its strings would not sound the tune so. */
const touched = (step: StruckStep): StruckStep => {
  const { melody } = step.onset;
  const top = Math.max(...step.hold.pitches);
  return melody === undefined || melody.midi === top + soundsAbove(step)
    ? step
    : { ...step, strike: 'whole' };
};

/** What sounds as a harmonic begins with its stroke, and so does what does not any more. */
const apartFromHarmonics = (steps: readonly StruckStep[]): StruckStep[] =>
  steps.map((step, at) => {
    const before = steps[at - 1];
    return before === undefined || soundsAbove(before) === soundsAbove(step) ? step : again(step);
  });

/** The section that each measure is in, by its number as written. */
function sectionsOf({ measures }: Piece): (string | undefined)[] {
  let now: string | undefined;
  return measures.map(({ section }) => (now = section ?? now));
}

/** A part of a step's time, in beats from its beginning. */
function within(step: StruckStep, from: number, lasts: number): StruckStep {
  const { onset } = step;
  const perBeat = onset.lasts === 0 ? 0 : onset.lastsSeconds / onset.lasts;
  return {
    ...step,
    onset: {
      ...onset,
      at: onset.at + from,
      lasts,
      seconds: onset.seconds + from * perBeat,
      lastsSeconds: lasts * perBeat,
    },
  };
}

const isOwn =
  ({ hold }: TuneStep) =>
  ({ string }: ReachedString): boolean =>
    hold.strings.includes(string);

/** Struck anew, with no more than its own strings. */
const again = (step: StruckStep): StruckStep => ({
  ...step,
  strings: step.strings.filter(isOwn(step)).map((each) => ({ ...each, reached: 'picked' })),
});

/** The whole beats of its measure that lie within a step, from its beginning; that one not among them. */
function beatsIn({ onset }: TuneStep, measure: TuneMeasure): { from: number; number: number }[] {
  const found: { from: number; number: number }[] = [];
  const end = onset.at + onset.lasts - SAME_PLACE;
  for (let beat = 0; measure.at + beat < end; beat++) {
    const from = measure.at + beat - onset.at;
    if (from > SAME_PLACE) found.push({ from, number: beat + 1 });
  }
  return found;
}

function onEachBeat(step: StruckStep, measure: TuneMeasure): StruckStep[] {
  const cuts = beatsIn(step, measure).map(({ from }) => from);
  const ends = [...cuts, step.onset.lasts];
  return [
    within(step, 0, ends[0] ?? step.onset.lasts),
    ...cuts.map((from, at) => again(within(step, from, (ends[at + 1] ?? from) - from))),
  ];
}

/** Back beats are the even ones, and in three the second and the third. */
const isBackBeat = (number: number, { metre }: TuneMeasure): boolean =>
  metre.beats === 3 ? number > 1 : number % 2 === 0;

function chopped(step: StruckStep, measure: TuneMeasure): StruckStep[] {
  const { onset } = step;
  const short = (from: number): StruckStep =>
    again(within(step, from, Math.min(CHOP, onset.lasts - from)));
  // a note of the tune is heard where it begins
  if (!onset.asChord || (onset.melody !== undefined && !onset.melodyLasts)) return [short(0)];
  const first = Math.round((onset.at - measure.at) * 1000) / 1000 + 1;
  const starts = Number.isInteger(first) && isBackBeat(first, measure) ? [0] : [];
  const later = beatsIn(step, measure)
    .filter(({ number }) => isBackBeat(number, measure))
    .map(({ from }) => from);
  const all = [...starts, ...later];
  return (all.length === 0 ? [0] : all).map(short);
}

const isEighths = (quarters: number): boolean =>
  Math.abs(quarters * 8 - Math.round(quarters * 8)) < 8 * SAME_PLACE;

/**
 * Beats by which a stroke or a bend comes behind a step's place: a value that is read at sight, with what is
 * left of the note as another (an eighth, a sixteenth; within a tuplet one of its own).
 *
 * @param most beats that it may take
 */
function behind({ onset }: StruckStep, { at, metre }: TuneMeasure, most: number): number {
  const quarters = (beats: number): number => (beats * 4) / metre.unit;
  const half = quarters(onset.lasts) * OF_NOTE;
  // in half notes a beat is twice as long, and so is what comes after it
  const longest = AFTERBEAT * Math.max(1, quarters(1));
  let value = longest;
  if (isEighths(quarters(onset.at - at)) && isEighths(quarters(onset.lasts)))
    while (value > LEAST && value > quarters(most) + SAME_PLACE) value /= 2;
  else for (value = half; value > longest + SAME_PLACE;) value /= 2;
  const isPlayed = value > LEAST - SAME_PLACE && value <= half + SAME_PLACE;
  return isPlayed ? (value * metre.unit) / 4 : 0;
}

/**
 * Struck behind its place, within the time that the next stroke leaves. A rest is such time: the hand that comes late
 * lifts late, so the note keeps its length into the rest, as far as its measure goes (what follows that may be
 * another in each pass).
 */
function lateStruck(step: StruckStep, next: number, measure: TuneMeasure): StruckStep {
  const { at, lasts } = step.onset;
  const own = at + lasts;
  const free = Math.max(own, Math.min(next, measure.at + measure.lasts));
  const late = behind(step, measure, Math.min(lasts * OF_NOTE, (free - at) * OF_TIME));
  return again(within(step, late, Math.min(own + late, free) - (at + late)));
}

/** Struck as the strings are without the controls, which then take them where they belong. */
function bent(setup: Setup, step: StruckStep, measure: TuneMeasure): StruckStep[] {
  const { hold, onset, way } = step;
  const moves = movesOf(setup, hold.neck, way);
  const moved = new Set(
    step.strings
      .filter(isOwn(step))
      .filter(({ string, reached }) => reached === 'picked' && (moves[string - 1] ?? 0) !== 0)
      .map(({ string }) => string),
  );
  const before = behind(step, measure, onset.lasts * OF_TIME);
  if (moved.size === 0 || before === 0) return [step];
  const lower = (string: number, pitch: number): number =>
    moved.has(string) ? pitch - (moves[string - 1] ?? 0) : pitch;
  const first = within(step, 0, before);
  return [
    {
      ...first,
      hold: {
        ...hold,
        engaged: [],
        idle: [],
        pitches: hold.strings.map((string, at) => lower(string, hold.pitches[at] ?? 0)),
      },
      way: [],
      stays: [],
      strings: step.strings.map((each) => ({ ...each, pitch: lower(each.string, each.pitch) })),
    },
    {
      ...within(step, before, onset.lasts - before),
      strings: step.strings.map((each) => ({
        ...each,
        reached: moved.has(each.string) ? 'pull' : 'rings',
      })),
    },
  ];
}

/** Steps of a tune as they are struck, in order of time. */
export function struckSteps(
  setup: Setup,
  piece: Piece,
  steps: readonly TuneStep[],
  strikes: Strikes | undefined,
): StruckStep[] {
  const plain = steps.map((step, of): StruckStep => ({ ...step, of }));
  if (strikes === undefined) return plain;
  const sections = sectionsOf(piece);
  const found: StruckStep[] = [];
  const measures = tuneMeasures(piece, plain);
  // nothing rings on out of a silence: after a short strike all is struck anew
  const add = ([first, ...more]: readonly StruckStep[]): void => {
    if (first === undefined) return;
    const before = found.at(-1)?.onset;
    const isApart = before !== undefined && first.onset.at > before.at + before.lasts + SAME_PLACE;
    found.push(isApart ? again(first) : first, ...more);
  };
  for (const measure of measures) {
    const strike = strikeOf(strikes, measure.measure, sections[measure.measure]);
    for (const { step } of measure.steps) {
      if (strike === undefined) {
        add([step]);
        continue;
      }
      const own = { ...step, strike };
      const next = steps[own.of + 1]?.onset.at ?? Infinity;
      if (strike === 'beats') add(onEachBeat(own, measure));
      else if (strike === 'chop') add(chopped(own, measure));
      else if (strike === 'late') add([lateStruck(own, next, measure)]);
      else if (strike === 'bend') add(bent(setup, own, measure));
      else if (harmonicOf(strike) !== undefined) add([touched(own)]);
      else add([own]);
    }
  }
  return apartFromHarmonics(found);
}
