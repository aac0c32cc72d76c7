/** What the page Change asks: plain data in, plain data out. */
import { prettyName, prettySymbol, spokenSymbol, spokenType, typeName } from '$lib/theory/display';
import { chromaOf } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';
import type { Chord } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { changeBetween, countShapes, mostUsedFirst, type Change } from '$lib/coverage/change';
import { shapeNow, type ChangedShape } from '$lib/coverage/changedShape';
import { KINDS, type ChangeKind, type ListName } from '$lib/coverage/changeKinds';
import { scoreOfChange } from '$lib/coverage/clarity';
import { changedVoicing, chordAt } from '$lib/coverage/changedVoicing';
import { easeAt } from '$lib/coverage/ease';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import { fretsWithin, type Shape } from '$lib/engine/shapes';
import { chordsSaid, yardstick } from '$lib/coverage/yardstick';
import { lessonView, type LessonView } from './lessonView';

/** How a chord at the bar stands before and after. */
export type CellState = 'none' | 'same' | 'new' | 'lost' | 'easier' | 'harder';

export interface Cell {
  /** A chord type on a root above the bar. */
  readonly chordNumber: number;
  /** `F♯m7`. */
  readonly symbol: string;
  readonly spoken: string;
  readonly state: CellState;
  /** The ease of its easiest voicing, 0 … 1, before and after. */
  readonly before: number;
  readonly after: number;
}

export interface TypeLine {
  readonly type: string;
  /** `major`, `m7♭5`. */
  readonly name: string;
  readonly spoken: string;
  /** Voicings along the whole neck. */
  readonly before: number;
  readonly after: number;
  readonly gain: number;
  /** C first. */
  readonly cells: readonly Cell[];
}

export interface Weighed {
  readonly gain: number;
  /** The gain by the clarity of its use, as a search for pulls scores it. */
  readonly score: number;
  /** Voicings along the whole neck. */
  readonly counts: Readonly<Record<ChangeKind, number>>;
  readonly picture: Picture;
}

export interface Picture {
  /** `C`, `C♯` … as they stand over the columns. */
  readonly roots: readonly string[];
  readonly lines: readonly TypeLine[];
}

export interface ChangedRow {
  readonly chord: Chord;
  /** What else it is: `Am7`. */
  readonly others: readonly string[];
  readonly ranked: RankedVoicing;
  readonly state: ListName;
  /** The effort it took before the change. */
  readonly before?: number;
}

export interface ChangedRows {
  /** Grips at this fret; `rows` is the first of them. */
  readonly count: number;
  readonly rows: readonly ChangedRow[];
}

const by = yardstick(EVERYDAY_REPERTOIRE);

const CHANGES = new Cached<Change>(2);

/** The change from one setup to another; the last ones are remembered with what it leads to. */
const changeOf = (before: Setup, after: Setup): Change =>
  compile(after).once(CHANGES, JSON.stringify(before), () => changeBetween(before, after, by));

/** Compares a setup with what it would be. */
export function weigh(before: Setup, after: Setup, fret: number): Weighed {
  const change = changeOf(before, after);
  const frets = [0, before.frets] as const;
  const counts = Object.fromEntries(
    KINDS.map((kind) => [kind, countShapes(change.shapes[kind].map(shapeNow), by, frets).count]),
  ) as Record<ChangeKind, number>;
  return {
    gain: change.gain,
    score: scoreOfChange(change),
    counts,
    picture: picture(before, after, fret),
  };
}

/** Every chord type on every root with the bar at a fret. */
export function picture(was: Setup, is: Setup, fret: number): Picture {
  const change = changeOf(was, is);
  const frets = [0, change.before.frets] as const;
  const count = (shapes: readonly Shape[]): Map<string, number> =>
    new Map(countShapes(shapes, by, frets).byType.map((each) => [each.type, each.count]));
  const before = count(change.all.before);
  const after = count(change.all.after);
  return {
    roots: Array.from({ length: 12 }, (_, chroma) => prettyName(plainName(chroma))),
    lines: by.types.map((type, chordNumber) => ({
      type,
      name: typeName(type),
      spoken: spokenType(type),
      before: before.get(type) ?? 0,
      after: after.get(type) ?? 0,
      gain: change.gainByType[chordNumber] ?? 0,
      cells: Array.from({ length: 12 }, (_, chroma) =>
        cellAt(change, chordNumber * 12 + chromaOf(chroma - fret), fret),
      ),
    })),
  };
}

/**
 * Some rows of a list with the bar at a fret, of one chord only where its number is given: what changes
 * with the most used chords first, all that can be played easiest first.
 */
export function rows(
  was: Setup,
  is: Setup,
  list: ListName,
  fret: number,
  most: number,
  chordNumber?: number,
): ChangedRows {
  const change = changeOf(was, is);
  const within = listOf(change, list).filter(
    (changed) =>
      fretsWithin(shapeNow(changed), [fret, fret]).length > 0 &&
      (chordNumber === undefined || chordsSaid(by, shapeNow(changed).set).includes(chordNumber)),
  );
  const here = list === 'all' ? within : mostUsedFirst(by, within);
  return {
    count: here.length,
    rows: here.slice(0, most).map((changed) => {
      const { chords, before, ...ranked } = changedVoicing(change, changed, fret, chordNumber);
      const [chord, ...others] = chords as [Chord, ...Chord[]];
      return {
        chord,
        // a second name helps only where no tone of it is missing
        others: others
          .filter(({ pitchClasses }) => pitchClasses === ranked.voicing.pitchClasses)
          .map(({ symbol }) => prettySymbol(symbol)),
        ranked,
        state: list,
        ...(before === undefined ? {} : { before: before.total }),
      };
    }),
  };
}

/** What a control of a setup makes possible. */
export const lesson = (setup: Setup, id: string, fret: number): LessonView =>
  lessonView(setup, id, by, fret);

/** The shapes of a list; all that can be played after the change are a list too. */
function listOf(change: Change, list: ListName): readonly ChangedShape[] {
  if (list !== 'all') return change.shapes[list];
  return change.all.after
    .map((after) => ({ chordNumber: chordsSaid(by, after.set)[0] ?? 0, after }))
    .sort((a, b) => a.after.effort - b.after.effort || a.after.number - b.after.number);
}

function cellAt(change: Change, chordNumber: number, fret: number): Cell {
  const ease = (of: 'before' | 'after'): number =>
    Math.max(...change.eases[of].map((each) => easeAt(each, chordNumber))) / 1000;
  const [before, after] = [ease('before'), ease('after')];
  const chord = chordAt(by, chordNumber, fret);
  const state: CellState =
    before === after
      ? after === 0
        ? 'none'
        : 'same'
      : before === 0
        ? 'new'
        : after === 0
          ? 'lost'
          : after > before
            ? 'easier'
            : 'harder';
  return {
    chordNumber,
    symbol: prettySymbol(chord.symbol),
    spoken: spokenSymbol(chord),
    state,
    before,
    after,
  };
}
