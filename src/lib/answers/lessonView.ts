/** What a control makes possible, in rows for the page. */
import { prettySymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { engagedText } from '$lib/setup/engagedText';
import type { Engaged, Setup } from '$lib/setup/setup';
import { heardPitches } from '$lib/tuning/heard';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { chordAt, ranked } from '$lib/coverage/changedVoicing';
import { lessonOf, nameAt, type Move } from '$lib/coverage/lesson';
import { compile } from '$lib/engine/instrument';
import type { Shape } from '$lib/engine/shapes';
import type { Yardstick } from '$lib/coverage/yardstick';

export interface LessonChord {
  readonly chord: Chord;
  readonly ranked: RankedVoicing;
  /** Grips it lies on. */
  readonly grips: readonly string[];
}

/** A move with the bar still: what rings, and what it becomes. */
export interface LessonMove {
  /** `A`; empty where nothing is held. */
  readonly held: string;
  readonly pressed: string;
  readonly from: string;
  readonly to: string;
  readonly grips: readonly string[];
  readonly neck: number;
  readonly strings: readonly number[];
  /** By string of the first grip, as the setup is tuned: a fraction is cents. */
  readonly fromPitches: readonly number[];
  readonly toPitches: readonly number[];
}

export interface LessonView {
  readonly id: string;
  readonly gain: number;
  /** On everyday grips, as without the control nothing does. */
  readonly only: readonly LessonChord[];
  /** On other grips. */
  readonly further: readonly LessonChord[];
  readonly everyday: readonly LessonChord[];
  readonly moves: readonly LessonMove[];
}

function moveView(setup: Setup, { neck, held, pressed, grips }: Move, fret: number): LessonMove {
  const [first] = grips;
  if (first === undefined) throw new Error('a move without a grip');
  const { strings } = first;
  const heard = (engaged: readonly Engaged[]): number[] =>
    heardPitches(setup, { neck, fret, slant: 0, engaged, strings }).map(({ midi }) => midi);
  return {
    neck,
    held: engagedText(held),
    pressed: engagedText([pressed]),
    from: prettySymbol(nameAt(first.from, fret)),
    to: prettySymbol(nameAt(first.to, fret)),
    grips: grips.map(({ strings }) => strings.join('-')),
    strings,
    fromPitches: heard(held),
    toPitches: heard([...held, pressed]),
  };
}

export function lessonView(setup: Setup, id: string, by: Yardstick, fret: number): LessonView {
  const lesson = lessonOf(setup, id, by);
  const view = (chordNumber: number, shapes: readonly Shape[]): LessonChord => {
    const chord = chordAt(by, chordNumber, fret);
    const all = shapes.map((shape) => ranked(compile(setup), shape, fret, chord));
    const [first] = all;
    if (first === undefined) throw new Error('a chord without a grip');
    return { chord, ranked: first, grips: all.map(({ voicing }) => voicing.strings.join('-')) };
  };
  const opened = (everyday: boolean): LessonChord[] =>
    lesson.opens
      .filter((each) => each.everyday === everyday)
      .map(({ chordNumber, shape }) => view(chordNumber, [shape]));
  return {
    id,
    gain: lesson.change.gain,
    only: opened(true),
    further: opened(false),
    everyday: lesson.everyday.map(({ chordNumber, shapes }) => view(chordNumber, shapes)),
    moves: lesson.moves.map((move) => moveView(setup, move, fret)),
  };
}
