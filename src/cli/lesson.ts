/** `gripwright change --learn ID`: what a control makes possible, in the order to learn it. */
import { prettySymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { useText } from '$lib/answers/lessonText';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf, voicingOf, type Lesson } from '$lib/coverage/lesson';
import type { Opened } from '$lib/coverage/opened';
import type { Move, Position } from '$lib/coverage/useLists';
import type { Yardstick } from '$lib/coverage/yardstick';
import { Refusal, numberText, print, printJson, table } from './out';
import { voicingJson } from './voicingJson';

interface LessonOptions {
  readonly json?: boolean;
  /** How much of the long lists is told; none of them in a table where it is not given. */
  readonly limit?: number;
}

/** JSON tells so many of each list where nothing is said. */
const TOLD = 20;

const first = <T>(all: readonly T[], limit: number): readonly T[] =>
  limit === 0 ? all : all.slice(0, limit);

const gripsText = (grips: readonly (readonly number[])[]): string =>
  grips.map((strings) => strings.join('-')).join(', ');

/** A lesson with the bar at a fret. */
interface At {
  readonly lesson: Lesson;
  readonly fret: number;
}

const chordOf = ({ lesson, fret }: At, chordNumber: number, neck: number): Chord =>
  chordInKey(lesson.by, chordNumber, fret, keyAt(lesson, neck, fret));

const symbolOf = (at: At, chordNumber: number, neck: number): string =>
  prettySymbol(chordOf(at, chordNumber, neck).symbol);

function voicingOn(at: At, each: Opened | Position, strings: readonly number[]) {
  const chord = chordOf(at, each.chordNumber, each.neck);
  return voicingJson(chord, voicingOf(at.lesson.setup, { ...each, strings }, at.fret, chord));
}

const moveJson = (at: At, move: Move) => ({
  neck: move.neck,
  held: move.held,
  pressed: move.pressed,
  from: chordOf(at, move.was, move.neck).symbol,
  to: chordOf(at, move.is, move.neck).symbol,
  grips: move.grips.map(({ strings, from, to }) => ({
    strings,
    from: from.map((pitch) => pitch + at.fret),
    to: to.map((pitch) => pitch + at.fret),
  })),
});

const positionJson = (at: At, position: Position) => ({
  symbol: chordOf(at, position.chordNumber, position.neck).symbol,
  controls: position.engaged,
  voicings: position.grips.map((strings) => voicingOn(at, position, strings)),
});

function lessonJson(at: At, limit: number) {
  const { lesson, fret } = at;
  const { by, short } = lesson;
  return {
    control: lesson.id,
    fret,
    gain: lesson.change.gain,
    use: useText(lesson, fret),
    short: {
      moves: short.moves.map((move) => moveJson(at, move)),
      positions: short.positions.map((position) => positionJson(at, position)),
    },
    opens: first(lesson.opens, limit).map((opened) => ({
      symbol: chordOf(at, opened.chordNumber, opened.neck).symbol,
      type: by.types[Math.floor(opened.chordNumber / 12)],
      controls: opened.engaged,
      grips: opened.grips.length,
      strings: opened.grips,
      easiest: voicingOn(at, opened, opened.grips[0] ?? []),
    })),
    everyday: first(lesson.everyday, limit).map((position) => positionJson(at, position)),
    moves: first(lesson.moves, limit).map((move) => moveJson(at, move)),
  };
}

const movesTable = (at: At, moves: readonly Move[]): string =>
  table(
    ['held', 'press', 'from', 'to', 'strings'],
    moves.map((move) => [
      engagedText(move.held) || '–',
      engagedText([move.pressed]),
      symbolOf(at, move.was, move.neck),
      symbolOf(at, move.is, move.neck),
      gripsText(move.grips.map(({ strings }) => strings)),
    ]),
  );

const chordsTable = (at: At, all: readonly (Opened | Position)[]): string =>
  table(
    ['chord', 'controls', 'strings'],
    all.map((each) => [
      symbolOf(at, each.chordNumber, each.neck),
      engagedText(each.engaged),
      gripsText(each.grips),
    ]),
  );

/** Prints what a control makes possible with the bar at a fret, as JSON where that is asked. */
export function printLesson(
  setup: Setup,
  id: string,
  by: Yardstick,
  fret: number,
  { json, limit }: LessonOptions,
): void {
  if (!setup.controls.some((control) => control.id === id))
    throw new Refusal(
      `--learn: found “${id}”; allowed is a control of this setup: ${setup.controls.map((each) => each.id).join(', ') || 'it has none'}.`,
      1,
    );
  const at = { lesson: lessonOf(setup, id, by), fret };
  if (json) printJson(lessonJson(at, limit ?? TOLD));
  else printTables(at, limit);
}

function printTables(at: At, limit: number | undefined): void {
  const { lesson, fret } = at;
  const { id, setup, short, opens, everyday, moves } = lesson;
  print(
    `${id} on “${setup.name}”, with the bar at fret ${fret}; everything moves up the neck with the bar.`,
  );
  print(`\n${useText(lesson, fret)}`);
  if (short.moves.length > 0)
    print(`\nFrom the open position, the bar still\n${movesTable(at, short.moves)}`);
  if (short.positions.length > 0)
    print(`\nTogether with another control\n${chordsTable(at, short.positions)}`);
  const long: readonly [title: string, count: number, shown: () => string][] = [
    [
      'Chords that nothing as easy gives here',
      opens.length,
      () => chordsTable(at, first(opens, limit ?? 0)),
    ],
    ['Everyday grips', everyday.length, () => chordsTable(at, first(everyday, limit ?? 0))],
    ['With the bar still', moves.length, () => movesTable(at, first(moves, limit ?? 0))],
  ];
  if (limit === undefined) {
    print(
      `\n${long.map(([title, count]) => `${title}: ${numberText(count)}.`).join(' ')} --limit 0 lists them all.`,
    );
    return;
  }
  for (const [title, count, shown] of long) {
    print(`\n${title}: ${numberText(count)}`);
    if (count > 0) print(shown());
  }
}
