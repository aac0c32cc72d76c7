/** A tune in a texture as tablature: every note in its place, with the form of its piece. */
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { tuneMeasures, type TuneMeasure } from '$lib/arrange/tuneMeasures';
import { harmonicOf, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import type { Chord } from '$lib/theory/chord';
import { prettyPitch } from '$lib/theory/display';
import { spelled } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { WRITTEN_OUT, afterOf, beforeOf } from './tabForm';
import type { TabPiece, TabStep } from './tablature';
import { tuneForm } from './tuneForm';

const symbolOf = (chord: Chord | 'no chord' | undefined): string =>
  chord === undefined ? '' : chord === 'no chord' ? 'N.C.' : chord.symbol;

type Struck = TuneStep & Partial<Pick<StruckStep, 'strike'>>;

/** Where a measure stands, and by the number of each of its steps when that is heard. */
interface Placed {
  readonly bar: number;
  readonly number: string;
  readonly heardAt?: ReadonlyMap<number, readonly number[]> | undefined;
}

/** What stands in a measure, rests too; a measure of nothing but a rest is there all the same. */
function stepsIn(
  setup: Setup,
  { at: begins, lasts, section, steps, chords }: TuneMeasure<Struck>,
  { bar, number, heardAt }: Placed,
  strikeBefore: Struck['strike'],
): TabStep[] {
  const end = begins + lasts;
  const named = [...chords];
  const found: TabStep[] = [];
  const add = (at: number, until: number, more: Partial<TabStep>): void => {
    const due = named.findLastIndex((each) => each.at <= at + SAME_PLACE);
    // two chords at once are one place to write
    const [chord] = named.splice(0, due + 1).slice(-1);
    found.push({
      chord: symbolOf(chord?.chord),
      ...(chord === undefined ? { unnamed: true as const } : {}),
      ...{ bar, number, beats: until - at },
      ...(section === undefined || found.length > 0 ? {} : { section }),
      ...more,
    });
  };
  let reached = begins;
  let struck = strikeBefore;
  steps.forEach(({ step, index }, order) => {
    const { at, lasts: long } = step.onset;
    if (at > reached + SAME_PLACE) add(reached, at, {});
    const next = steps[order + 1]?.step.onset.at ?? end;
    const until = Math.min(at + long, next, end);
    const { hold, strings, way } = step;
    const { strike } = step;
    const isNew = strike !== struck;
    struck = strike;
    const heard = heardAt?.get(index);
    add(at, until, {
      ...(heard === undefined ? {} : { heard }),
      ...(isNew ? { strike: strike ?? 'as usual' } : {}),
      voicing: {
        neck: hold.neck,
        strings: hold.strings,
        frets: fretsOf(setup, step),
        engaged: way,
        ...touchedAt(step),
      },
      ...soundsAt(step),
      reached: new Map(strings.map(({ string, reached: how }) => [string, how])),
    });
    reached = until;
  });
  if (reached < end - SAME_PLACE) add(reached, end, {});
  return found;
}

/** How many frets beyond the bar its strings are touched. */
const touchedAt = ({ strike }: Struck): { readonly touched?: number } => {
  const harmonic = harmonicOf(strike);
  return harmonic === undefined ? {} : { touched: harmonic.frets };
};

/** What its touched strings sound, the farthest first. */
function soundsAt({ strike, hold, tones }: Struck): { readonly sounds?: string } {
  const harmonic = harmonicOf(strike);
  if (harmonic === undefined) return {};
  const sounds = hold.pitches.map((pitch) => spelled(tones, pitch + harmonic.semitones));
  return { sounds: sounds.map((pitch) => prettyPitch(pitch)).join(' ') };
}

/** The fret at each string; under a slanted bar they differ. */
export function fretsOf(setup: Setup, { hold }: TuneStep): number[] {
  if (hold.slant === 0) return hold.strings.map(() => hold.fret);
  const straight = sounding(setup, hold.neck, hold.engaged, hold.fret);
  return hold.strings.map(
    (string, at) => hold.fret + (hold.pitches[at] ?? 0) - (straight[string - 1] ?? 0),
  );
}

/** The steps of measures in a row; a strike is told where it begins. */
function inARow(
  setup: Setup,
  measures: readonly TuneMeasure<Struck>[],
  numberOf: (at: number) => string,
  heardAt?: ReadonlyMap<number, readonly number[]>,
): TabStep[][] {
  return measures.map((each, at) => {
    const before = measures.slice(0, at).findLast((one) => one.steps.length > 0);
    const place = { bar: at + 1, number: numberOf(at), heardAt };
    return stepsIn(setup, each, place, before?.steps.at(-1)?.step.strike);
  });
}

/** Everything that is played, in the order of playing. */
export const tuneTabPlayed = (setup: Setup, piece: Piece, steps: readonly Struck[]): TabPiece => ({
  title: piece.title ?? '',
  setup,
  steps: inARow(setup, tuneMeasures(piece, steps), (at) => String(at + 1)).flat(),
});

/** The tablature as it is written: what is played alike each time stands there once. */
export function tuneTab(setup: Setup, piece: Piece, steps: readonly Struck[]): TabPiece {
  const { piece: written, measures, shown, isWrittenOut } = tuneForm(piece, steps);
  const heardAt = new Map<number, number[]>();
  shown.forEach((stands, index) => heardAt.set(stands, [...(heardAt.get(stands) ?? []), index]));
  const numberOf = (at: number): string => String(measures[at]?.number ?? at + 1);
  const own = inARow(setup, measures, numberOf, heardAt);
  return {
    title: piece.title ?? '',
    setup,
    steps: own.flatMap((inMeasure, at) => {
      const [before, now, after] = [at - 1, at, at + 1].map((each) => written.measures[each]);
      if (now === undefined) return inMeasure;
      const [begins, ends] = [beforeOf(now, before, undefined), afterOf(now, after)];
      return inMeasure.map((step, each) => ({
        ...step,
        ...(each === 0 ? { before: begins } : {}),
        ...(each === inMeasure.length - 1 ? { after: ends } : {}),
      }));
    }),
    ...(isWrittenOut ? { remark: WRITTEN_OUT } : {}),
  };
}
