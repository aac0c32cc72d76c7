/** The whole trip from a piece and its textures to the best ways of playing it, note by note. */
import type { Chord } from '$lib/theory/chord';
import { chromaOfName, type Pitch } from '$lib/theory/pitch';
import type { SpelledTone } from '$lib/theory/toneNames';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { gripOf, gripSize } from '$lib/search/grip';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms } from '$lib/effort/clarity';
import { PER_UNIT, effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import {
  barMm,
  barMoveTerms,
  controlChanges,
  feetMoveTerms,
  moveFromHome,
  moveOf,
  type Move,
  type SoundingHold,
} from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { reachTerms, reachedFrom, type Reached, type Wanted } from '$lib/effort/reaching';
import { compile } from '$lib/engine/instrument';
import { costsOf, type StepEffort } from './arrange';
import { bestWays, type FoundWay, type WaysQuestion } from './bestWays';
import { roundedSeconds } from './moveCosts';
import { onsetsOf, type Onset } from './onsets';
import { SAME_PLACE, type Piece } from './piece';
import { prepare } from './prepared';
import { reachCosts } from './reachCosts';
import { heldAs, notNeeded } from './stage';
import type { Textures } from './texture';
import {
  TONES,
  soundOf,
  splitStrings,
  splitTerms,
  toneStageOf,
  tones,
  type ToneStage,
} from './toneStage';
import type { Wishes } from './wishes';

/** One string of what sounds. */
export interface ReachedString {
  /** From 1. */
  readonly string: number;
  readonly pitch: number;
  readonly reached: Reached;
  /** It sounds the tune. */
  readonly melody: boolean;
}

export interface TuneStep {
  readonly onset: Onset;
  /** The strings of the note or chord, from 1, ascending; what only rings on is not among them. */
  readonly hold: SoundingHold;
  /** What of the engaged controls it needs. */
  readonly way: Choice;
  /** What stays engaged from before although this does not need it. */
  readonly stays: Choice;
  /** All that sounds: how each string is reached, and those of the chord before that ring on. */
  readonly strings: readonly ReachedString[];
  /** The chord's tones, the tune's and the second voice's, as they are written. */
  readonly tones: readonly SpelledTone[];
  readonly effort: StepEffort;
  readonly move: Move;
}

export interface TuneWay {
  /** The sum of all efforts and moves. */
  readonly total: number;
  readonly steps: readonly TuneStep[];
}

/** What is less than was asked for. */
export interface Lack {
  readonly onset: Onset;
  /** The second voice, or the chord, that no string can give with it; or the note or chord itself. */
  readonly lacks: 'second' | 'chord' | 'all';
}

export interface TuneArrangement {
  readonly ways: readonly TuneWay[];
  readonly lacks: readonly Lack[];
  readonly searched: { readonly candidates: number; readonly waysLog10: number };
}

/** A moment with its candidates. */
interface Ready {
  readonly onset: Onset;
  readonly tones: ToneStage;
  readonly wanted: Wanted;
}

/** The candidates of a moment; with less where there are none with all of it. */
function stageFor(
  setup: Setup,
  wishes: Wishes,
  onset: Onset,
): { readonly tones?: ToneStage; readonly lacks?: Lack['lacks'] } {
  const { melody, second, chord, asChord } = onset;
  if (asChord && chord !== undefined) {
    const voiced = voicings(setup, wishes, chord, melody);
    if (voiced !== undefined) return { tones: voiced };
  } else if (melody !== undefined && second !== undefined) {
    const both = tones(setup, wishes, [second.midi, melody.midi]);
    if (both.stage.layer.count > 0) return { tones: both };
  }
  if (melody !== undefined) {
    const alone = tones(setup, wishes, [melody.midi]);
    if (alone.stage.layer.count > 0)
      return {
        tones: alone,
        ...(asChord ? { lacks: 'chord' } : second === undefined ? {} : { lacks: 'second' }),
      };
  }
  return { lacks: 'all' };
}

/** Voicings of a chord with a note on top: as chords are arranged, else without the root, else on two strings. */
function voicings(
  setup: Setup,
  wishes: Wishes,
  chord: Chord,
  melody: Pitch | undefined,
): ToneStage | undefined {
  const asked: Wishes[] = [
    wishes,
    { ...wishes, match: 'rootless', bass: 'band', must: [] },
    { ...wishes, match: 'rootless', bass: 'band', must: [], sizes: [2, 2] },
  ];
  for (const each of asked) {
    const place = { bar: 0, slot: 0, start: 0, length: 1, share: 1 };
    const step = { ...place, chord, ...(melody === undefined ? {} : { melody }) };
    const free: Wishes = { ...each, melody: 'exact', steps: new Map() };
    const { layer, indexes, remember } = prepare(setup, free, step, 0);
    if (layer.count > 0)
      return remember(TONES, () => toneStageOf(setup, layer, indexes, wishes.balance));
  }
  return undefined;
}

/** What a moment wants after the one before it that is played. */
function wantedAfter(before: Onset | undefined, onset: Onset): Wanted {
  const gap = before === undefined ? Infinity : onset.at - (before.at + before.lasts);
  const seconds = before === undefined ? 1 : onset.seconds - before.seconds;
  return {
    joined: Math.abs(gap) < SAME_PLACE * 10,
    melody: onset.melody === undefined ? 'rests' : onset.melodyLasts ? 'lasts' : 'begins',
    between: onset.between,
    seconds: roundedSeconds(seconds),
  };
}

/** A tune ready to be solved. */
export interface ReadyTune {
  readonly setup: Setup;
  readonly wishes: Wishes;
  readonly moments: readonly Ready[];
  readonly lacks: readonly Lack[];
  readonly question: Omit<WaysQuestion, 'most'>;
}

/** Everything that the search is asked with. */
export function readyTune(
  setup: Setup,
  piece: Piece,
  textures: Textures,
  wishes: Wishes,
): ReadyTune {
  const lacks: Lack[] = [];
  const moments: Ready[] = [];
  for (const onset of onsetsOf(piece, textures)) {
    const { tones: found, lacks: less } = stageFor(setup, wishes, onset);
    if (less !== undefined) lacks.push({ onset, lacks: less });
    if (found === undefined) continue;
    moments.push({ onset, tones: found, wanted: wantedAfter(moments.at(-1)?.onset, onset) });
  }
  const after = moments.slice(1);
  return {
    setup,
    wishes,
    moments,
    lacks,
    question: {
      stages: moments.map((each) => each.tones.stage),
      costs: costsOf(compile(setup), wishes.balance),
      times: after.map(({ wanted }) => wanted.seconds),
      joints: after.map(({ tones: to, wanted }, before) =>
        reachCosts((moments[before] as Ready).tones, to, wanted, wishes.balance),
      ),
      home: wishes.home,
    },
  };
}

/** The best ways of playing a piece, least first; what cannot be played is passed over and told. */
export function arrangeTune(
  setup: Setup,
  piece: Piece,
  textures: Textures,
  wishes: Wishes,
  most: number,
): TuneArrangement {
  const ready = readyTune(setup, piece, textures, wishes);
  const counts = ready.question.stages.map(({ layer }) => layer.count);
  return {
    ways: bestWays({ ...ready.question, most }).map((way) => tuneWay(ready, way)),
    lacks: ready.lacks,
    searched: {
      candidates: counts.reduce((sum, count) => sum + count, 0),
      waysLog10: counts.reduce((sum, count) => sum + Math.log10(count), 0),
    },
  };
}

/** Sums of thousandths stay thousandths. */
const add = (...values: readonly number[]): number =>
  values.reduce((sum, value) => sum + Math.round(value * PER_UNIT), 0) / PER_UNIT;

const NO_MOVE = {
  barMm: 0,
  semitones: 0,
  changes: { pressed: [], letGo: [], shifted: [] },
  held: [],
};

/** A way as a person reads it. */
function tuneWay({ setup, wishes, moments }: ReadyTune, { candidates, idle }: FoundWay): TuneWay {
  let before: SoundingHold | undefined;
  let resting: readonly ReachedString[] = [];
  let last: TuneStep | undefined;
  const steps = moments.map(({ onset, tones: from, wanted }, at): TuneStep => {
    const candidate = candidates[at] as number;
    const { layer } = from.stage;
    const held = heldAs(from.stage, candidate, idle[at] ?? '');
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
        ...splitTerms(gripSize(split)),
        ...pickingTerms(on, sound.strings),
        ...barTerms(setup, fret, undefined, slant),
        ...heightTerms(fret),
        ...closeTerms(ascending),
        ...lowTerms(ascending),
      ],
      wishes.balance,
    );
    const wish = (layer.wish[candidate] as number) / PER_UNIT;
    const reached = reachedFrom(before, hold, wanted);
    const sings = onset.melody === undefined ? -1 : Math.max(...sound.pitches);
    const own = sound.strings.map((string, each): ReachedString => {
      const pitch = sound.pitches[each] as number;
      const melody = pitch === sings && sound.pitches.indexOf(pitch) === each;
      return { string, pitch, reached: reached[each] as Reached, melody };
    });
    const ringing = last !== undefined && onset.between && wanted.joined ? resting : [];
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
              ...reachTerms(before, hold, wanted),
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
    resting = onset.asChord
      ? own.filter((each) => !each.melody).map((each) => ({ ...each, reached: 'rings' }))
      : rest;
    before = hold;
    last = step;
    return step;
  });
  return { total: add(...steps.flatMap(({ effort, move }) => [effort.total, move.total])), steps };
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
