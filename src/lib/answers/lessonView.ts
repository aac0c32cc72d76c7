/** What a control makes possible, in rows for the page. */
import { prettySymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { engagedText } from '$lib/setup/engagedText';
import type { Engaged, Setup } from '$lib/setup/setup';
import { heardPitches } from '$lib/tuning/heard';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf, voicingOf, type Lesson } from '$lib/coverage/lesson';
import type { Opened } from '$lib/coverage/opened';
import type { Move, Position } from '$lib/coverage/useLists';
import type { Yardstick } from '$lib/coverage/yardstick';
import { useText } from './lessonText';

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
  /** What it is for, in two or three sentences. */
  readonly use: string;
  /** What a teacher would write: moves from the open position, a position with each other control. */
  readonly short: {
    readonly moves: readonly LessonMove[];
    readonly positions: readonly LessonChord[];
  };
  /** Chords that nothing as easy gives, on grips of the control. */
  readonly only: readonly LessonChord[];
  /** The same on other grips alone. */
  readonly further: readonly LessonChord[];
  readonly everyday: readonly LessonChord[];
  readonly moves: readonly LessonMove[];
}

function moveView(lesson: Lesson, { neck, held, pressed, was, is, grips }: Move, fret: number) {
  const [first] = grips;
  if (first === undefined) throw new Error('a move without a grip');
  const { strings } = first;
  const heard = (engaged: readonly Engaged[]): number[] =>
    heardPitches(lesson.setup, { neck, fret, slant: 0, engaged, strings }).map(({ midi }) => midi);
  const symbol = (chordNumber: number): string =>
    prettySymbol(chordInKey(lesson.by, chordNumber, fret, keyAt(lesson, neck, fret)).symbol);
  return {
    neck,
    held: engagedText(held),
    pressed: engagedText([pressed]),
    from: symbol(was),
    to: symbol(is),
    grips: grips.map(({ strings }) => strings.join('-')),
    strings,
    fromPitches: heard(held),
    toPitches: heard([...held, pressed]),
  };
}

export function lessonView(setup: Setup, id: string, by: Yardstick, fret: number): LessonView {
  const lesson = lessonOf(setup, id, by);
  const view = (each: Opened | Position): LessonChord => {
    const { chordNumber, engaged, grips } = each;
    const neck = 'use' in each ? each.use.neck : each.neck;
    const chord = chordInKey(by, chordNumber, fret, keyAt(lesson, neck, fret));
    const [strings = []] = grips;
    return {
      chord,
      ranked: voicingOf(setup, { neck, strings, engaged }, fret, chord),
      grips: grips.map((each) => each.join('-')),
    };
  };
  const moves = (all: readonly Move[]): LessonMove[] =>
    all.map((move) => moveView(lesson, move, fret));
  const opened = (everyday: boolean): LessonChord[] =>
    lesson.opens.filter((each) => each.everyday === everyday).map(view);
  return {
    id,
    gain: lesson.change.gain,
    use: useText(lesson, fret),
    short: { moves: moves(lesson.short.moves), positions: lesson.short.positions.map(view) },
    only: opened(true),
    further: opened(false),
    everyday: lesson.everyday.map(view),
    moves: moves(lesson.moves),
  };
}
