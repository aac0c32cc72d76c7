/** A way of playing a tune as a person reads it, note by note. */
import { chromaOfName } from '$lib/theory/pitch';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { handedStrings, sounding, splitStrings } from '$lib/setup/sounding';
import { gripOf, gripSize } from '$lib/search/grip';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms, splitTerms } from '$lib/effort/clarity';
import { PER_UNIT, effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import {
  barMm,
  barMoveTerms,
  controlChanges,
  feetMoveTerms,
  moveFromHome,
  moveOf,
  needed,
  type SoundingHold,
} from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { reachTerms, reachedFrom, type Reached } from '$lib/effort/reaching';
import type { FoundWay } from './bestWays';
import type { Onset } from './onsets';
import { heldAs, notNeeded } from './stage';
import { soundOf } from './toneStage';
import type { ReachedString, ReadyTune, TuneStep, TuneWay } from './tune';

/** Sums of thousandths stay thousandths. */
const add = (...values: readonly number[]): number =>
  values.reduce((sum, value) => sum + Math.round(value * PER_UNIT), 0) / PER_UNIT;

const NO_MOVE = {
  barMm: 0,
  semitones: 0,
  changes: { pressed: [], letGo: [], shifted: [] },
  held: [],
};

/** A step that was read, and what of it may ring on under the next. */
interface ReadStep {
  readonly step: TuneStep;
  readonly resting: readonly ReachedString[];
}

/** Ways as a person reads them. The best ways differ in few places: a step that is the same is read once. */
export function tuneWays(ready: ReadyTune, found: readonly FoundWay[]): TuneWay[] {
  const known = new Map<string, ReadStep>();
  return found.map(({ candidates, idle }) => {
    let before: ReadStep | undefined;
    let held = '';
    const steps = ready.moments.map(({ onset }, at): TuneStep => {
      const now = `${candidates[at] ?? ''}${idle[at] ?? ''}`;
      // what rings on under a note between chords may come from further back
      const ringing = onset.between
        ? (before?.resting.map(({ string, pitch }) => `${string}:${pitch}`).join() ?? '')
        : '';
      const asked = `${at} ${held} ${now} ${ringing}`;
      let read = known.get(asked);
      if (read === undefined) {
        read = readStep(ready, at, candidates[at] as number, idle[at] ?? '', before);
        known.set(asked, read);
      }
      before = read;
      held = now;
      return read.step;
    });
    const total = add(...steps.flatMap(({ effort, move }) => [effort.total, move.total]));
    return { total, steps };
  });
}

/** A candidate of a moment, with what stays, after the step before it. */
function readStep(
  { setup, wishes, moments }: ReadyTune,
  at: number,
  candidate: number,
  idle: string,
  after: ReadStep | undefined,
): ReadStep {
  const last = after?.step;
  const before = last?.hold;
  const { onset, tones: from, wanted } = moments[at] as ReadyTune['moments'][number];
  const { layer } = from.stage;
  const held = heldAs(from.stage, candidate, idle);
  const { neck, fret, slant, engaged, needs } = held;
  const sound = soundOf(from, candidate);
  const stays = notNeeded(engaged, needs);
  const hold: SoundingHold = { neck, fret, slant, ...sound, engaged, idle: stays };
  const on = setup.necks[neck - 1];
  if (on === undefined) throw new Error(`neck ${neck} is not in the setup`);
  const ascending = [...sound.pitches].sort((a, b) => a - b);
  const split = splitStrings(setup, neck, needs) & gripOf(sound.strings);
  const effort = effortOf(
    [
      ...engagingTerms(setup, before?.engaged ?? [], needs),
      ...pickingTerms(on, sound.strings),
      ...barTerms(setup, fret, undefined, slant),
      ...heightTerms(fret),
      ...closeTerms(ascending),
      ...lowTerms(ascending),
      ...splitTerms(gripSize(split)),
    ],
    wishes.balance,
  );
  const wish = (layer.wish[candidate] as number) / PER_UNIT;
  const handed =
    before === undefined ? 0 : handedStrings(setup, neck, needed(before), needed(hold));
  const reached = reachedFrom(before, hold, wanted, handed);
  const sings = onset.melody === undefined ? -1 : Math.max(...sound.pitches);
  const own = sound.strings.map((string, each): ReachedString => {
    const pitch = sound.pitches[each] as number;
    const melody = pitch === sings && sound.pitches.indexOf(pitch) === each;
    return { string, pitch, reached: reached[each] as Reached, melody };
  });
  const ringing = after !== undefined && onset.between && wanted.joined ? after.resting : [];
  const rest = ringing.filter(
    ({ string, pitch }) =>
      last !== undefined &&
      last.hold.neck === neck &&
      last.hold.fret === fret &&
      last.hold.slant === slant &&
      !sound.strings.includes(string) &&
      pitch < sings &&
      soundsOn(setup, hold, string, pitch),
  );
  const move =
    before !== undefined
      ? moveOf(
          [
            ...barMoveTerms(setup, before, hold, wanted.seconds),
            ...feetMoveTerms(setup, before, hold),
            ...reachTerms(before, hold, wanted, handed),
          ],
          wishes.balance,
          {
            barMm: barMm(setup, before, hold),
            semitones: 0,
            changes: controlChanges(before.engaged, hold.engaged),
            held: own.filter((each) => each.reached !== 'picked').map(({ string }) => string),
          },
        )
      : wishes.home !== undefined
        ? moveFromHome(setup, wishes.home, hold, wishes.balance)
        : moveOf([], wishes.balance, NO_MOVE);
  const step: TuneStep = {
    onset,
    hold,
    way: needs,
    stays,
    strings: [...own, ...rest].sort((a, b) => a.string - b.string),
    tones: tonesAt(onset),
    effort: { ...effort, wish, total: add(effort.total, wish) },
    move,
  };
  // a chord rings on under the notes that follow it, but for its own note of the tune
  const resting = onset.asChord
    ? own.filter((each) => !each.melody).map((each) => ({ ...each, reached: 'rings' as const }))
    : rest;
  return { step, resting };
}

/** Does a string that is not struck go on with the same pitch under a hold? */
const soundsOn = (
  setup: Setup,
  { neck, engaged, fret, slant }: SoundingHold,
  string: number,
  pitch: number,
) => slant === 0 && sounding(setup, neck, engaged, fret)[string - 1] === pitch;

/** The names by which the pitches of a moment are written: the tune's first, then the chord's. */
function tonesAt({ melody, second, chord }: Onset): SpelledTone[] {
  const named = [melody, second].filter((each) => each !== undefined);
  const own = chord?.tones ?? [];
  return [
    ...own,
    ...named
      .filter((each) => !own.some(({ chroma }) => chroma === chromaOfName(each)))
      .map(({ letter, alter }): SpelledTone => {
        const name = { letter, alter };
        return { degree: '', chroma: chromaOfName(name), name, role: 'extension' };
      }),
  ];
}
