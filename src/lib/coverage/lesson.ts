/**
 * What a control makes possible, in the order in which it is worth learning: what it does to the open
 * position with the bar still, where it leads together with each other control, the chords that nothing
 * as easy gives, and then everything on its grips.
 */
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import type { Chroma, Midi } from '$lib/theory/pitch';
import { pcSetOf } from '$lib/theory/pcset';
import type { Key } from '$lib/theory/spelling';
import { engagedCode } from '$lib/setup/engagedText';
import { withoutControl } from '$lib/setup/proposal';
import { combinations, type Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { sounding } from '$lib/setup/sounding';
import { Feet } from '$lib/effort/feet';
import { feetPrice } from '$lib/effort/prices';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import { effortOfVoicing } from '$lib/engine/rank';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { changeBetween, type Change } from './change';
import type { Way } from './easiest';
import { keyOn } from './inKey';
import { AS_EASY, openedBy, withoutIt, type Opened } from './opened';
import {
  besideHome,
  broadWorth,
  holdOf,
  movesIn,
  positionsIn,
  type Move,
  type Position,
} from './useLists';
import { gripsOfControl, tonicOf, useGround, usesWith, type Use } from './uses';
import type { Yardstick } from './yardstick';

/** Rows of each half of the short list at most: as many as fit on a teacher's page. */
const SHORT = 8;

export interface Lesson {
  readonly id: string;
  readonly setup: Setup;
  readonly by: Yardstick;
  /** The setup without the control, and with it. */
  readonly change: Change;
  /** By neck: the root of its open chord at the nut, in whose key everything is spelled. */
  readonly tonics: readonly Chroma[];
  /** What a teacher would write: moves from the open position, and one position with each other hold. */
  readonly short: { readonly moves: readonly Move[]; readonly positions: readonly Position[] };
  readonly opens: readonly Opened[];
  readonly everyday: readonly Position[];
  readonly moves: readonly Move[];
}

/** The key of a neck's open chord with the bar at a fret. */
export const keyAt = ({ tonics }: Pick<Lesson, 'tonics'>, neck: number, fret: number): Key =>
  keyOn(tonics[neck - 1] ?? 0, fret);

interface Sounding {
  readonly choice: Choice;
  readonly code: string;
  readonly all: readonly Midi[];
}

/** By neck; no setup has more of them than a few. */
const SOUNDINGS = new Cached<readonly Sounding[]>(4);

/** Every hold with what it sounds on a neck at the nut, the easiest first; found once for a setup. */
function soundingsOn(setup: Setup, neck: number): readonly Sounding[] {
  return compile(setup).once(SOUNDINGS, String(neck), () => {
    const feet = new Feet(setup);
    return [...combinations(setup)]
      .map((choice) => ({ choice, price: feetPrice(feet, choice) }))
      .sort((a, b) => a.price - b.price)
      .map(({ choice }) => ({
        choice,
        code: engagedCode(choice),
        all: sounding(setup, neck, choice, 0),
      }));
  });
}

/** A way to a chord as a voicing with the bar at a fret; other holds that sound the same come after its own. */
export function voicingOf(
  setup: Setup,
  { neck, strings, engaged }: Pick<Way, 'neck' | 'strings' | 'engaged'>,
  fret: number,
  chord: Chord,
): RankedVoicing {
  const picked = (all: readonly Midi[]): Midi[] => strings.map((string) => all[string - 1] ?? 0);
  const atNut = picked(sounding(setup, neck, engaged, 0));
  const pitches = atNut.map((pitch) => pitch + fret);
  const own = engagedCode(engaged);
  const others = soundingsOn(setup, neck)
    .filter(
      ({ code, all }) =>
        code !== own && picked(all).every((pitch, index) => pitch === atNut[index]),
    )
    .map(({ choice }) => choice);
  const pitchClasses = pcSetOf(pitches);
  const voicing = {
    neck,
    fret,
    slant: 0,
    strings,
    frets: strings.map(() => fret),
    pitches,
    pitchClasses,
    missing:
      allowedSets(chord, defaultMatch(chord)).find(({ set }) => set === pitchClasses)?.missing ??
      [],
    ways: [engaged, ...others],
  };
  return { voicing, effort: effortOfVoicing(compile(setup), voicing) };
}

/**
 * Does a control do nothing there: two undo each other, or one moves a string less far than another does? The
 * chord is then that of fewer controls, and no one would hold the rest for it.
 */
const isIdle = (setup: Setup, { neck, strings, held, pressed, to }: Use): boolean => {
  const all = [...held, pressed];
  const fewer = [[], ...all.map((one) => all.filter((each) => each !== one))];
  return fewer.some((engaged) => {
    const sounds = sounding(setup, neck, engaged, 0);
    return strings.every((string, index) => sounds[string - 1] === to[index]);
  });
};

/** Puts an existing control in question. */
export function lessonOf(setup: Setup, id: string, by: Yardstick): Lesson {
  const pulls = setup.controls.find((each) => each.id === id)?.pulls ?? [];
  const ground = useGround(setup, id, by, 'anything');
  const near = usesWith(useGround(setup, id, by), pulls);
  const uses = usesWith(ground, pulls);
  const own = setup.necks.map((_, index) => {
    const moved = pulls.filter(({ neck }) => neck === index + 1).map(({ string }) => string);
    return moved.length === 0
      ? []
      : gripsOfControl(ground.home[index] ?? [], moved).filter(({ length }) => length <= 4);
  });
  const otherwise = withoutIt(ground);
  const owns = ({ chordNumber, use }: Position): number =>
    Number(otherwise(chordNumber) - use.effort >= AS_EASY);
  const positions = positionsIn(
    setup,
    by,
    near.filter((use) => use.held.length > 0 && !isIdle(setup, use)),
  ).sort((a, b) => owns(b) - owns(a) || broadWorth(by, b) - broadWorth(by, a));
  const met = new Set<string>();
  const shown = new Set<number>();
  return {
    id,
    setup,
    by,
    change: changeBetween(withoutControl(setup, id), setup, by),
    tonics: setup.necks.map((_, index) => tonicOf(ground, index + 1)),
    short: {
      moves: movesIn(
        by,
        near.filter((use) => besideHome(ground.second, use).length === 0),
        ground.second,
      ).slice(0, SHORT),
      positions: positions
        // a hold once, and for a chord that no hold before it gives
        .filter(({ use, chordNumber }) => {
          if (met.has(holdOf(use)) || shown.has(chordNumber)) return false;
          met.add(holdOf(use));
          shown.add(chordNumber);
          return true;
        })
        .slice(0, SHORT),
    },
    opens: openedBy(ground, own, otherwise),
    everyday: positionsIn(setup, by, uses),
    moves: movesIn(by, uses, ground.second),
  };
}
