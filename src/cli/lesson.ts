/** `gripwright change --learn ID`: what a control makes possible, in the order to learn it. */
import { prettySymbol } from '$lib/theory/display';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { chordAt, ranked } from '$lib/coverage/changedVoicing';
import { lessonOf, nameAt, type EverydayGrips, type Lesson, type Move } from '$lib/coverage/lesson';
import type { Yardstick } from '$lib/coverage/yardstick';
import { Refusal, numberText, print, printJson, table } from './out';
import { compile } from '$lib/engine/instrument';
import { voicingJson } from './voicingJson';

interface LessonOptions {
  readonly json?: boolean;
  readonly limit: number;
}

const first = <T>(all: readonly T[], limit: number): readonly T[] =>
  limit === 0 ? all : all.slice(0, limit);

const gripsText = (grips: readonly (readonly number[])[]): string =>
  grips.map((strings) => strings.join('-')).join(', ');

function lessonJson(setup: Setup, lesson: Lesson, by: Yardstick, fret: number, limit: number) {
  const voicing = (shape: EverydayGrips['shapes'][number], chordNumber: number) => {
    const chord = chordAt(by, chordNumber, fret);
    return voicingJson(chord, ranked(compile(setup), shape, fret, chord));
  };
  return {
    control: lesson.id,
    fret,
    gain: lesson.change.gain,
    opens: first(lesson.opens, limit).map(({ chordNumber, shape, shapes }) => ({
      symbol: chordAt(by, chordNumber, fret).symbol,
      type: by.types[Math.floor(chordNumber / 12)],
      grips: shapes,
      easiest: voicing(shape, chordNumber),
    })),
    everyday: first(lesson.everyday, limit).map(({ chordNumber, engaged, shapes }) => ({
      symbol: chordAt(by, chordNumber, fret).symbol,
      controls: engaged,
      voicings: shapes.map((shape) => voicing(shape, chordNumber)),
    })),
    moves: first(lesson.moves, limit).map((move) => ({
      neck: move.neck,
      held: move.held,
      pressed: move.pressed,
      ...namesOf(move, fret),
      grips: move.grips.map(({ strings, from, to }) => ({
        strings,
        from: from.map((pitch) => pitch + fret),
        to: to.map((pitch) => pitch + fret),
      })),
    })),
  };
}

function namesOf({ grips }: Move, fret: number): { from: string; to: string } {
  const [grip] = grips;
  return { from: nameAt(grip?.from ?? [], fret), to: nameAt(grip?.to ?? [], fret) };
}

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
  const lesson = lessonOf(setup, id, by);
  if (json) {
    printJson(lessonJson(setup, lesson, by, fret, limit));
    return;
  }
  const part = (title: string, all: readonly unknown[], shown: string): void => {
    print(`\n${title}: ${numberText(all.length)}`);
    if (all.length > 0) print(shown);
  };
  print(
    `${id} on “${setup.name}”, with the bar at fret ${fret}; everything moves up the neck with the bar.`,
  );
  part(
    'Chords that nothing else gives here',
    lesson.opens,
    table(
      ['chord', 'controls', 'strings', 'grips', 'effort'],
      first(lesson.opens, limit).map(({ chordNumber, shape, shapes }) => {
        const { voicing, effort } = ranked(
          compile(setup),
          shape,
          fret,
          chordAt(by, chordNumber, fret),
        );
        return [
          prettySymbol(chordAt(by, chordNumber, fret).symbol),
          engagedText(voicing.ways[0] ?? []),
          voicing.strings.join('-'),
          String(shapes),
          effort.total.toFixed(2),
        ];
      }),
      [3, 4],
    ),
  );
  part(
    'Everyday grips',
    lesson.everyday,
    table(
      ['chord', 'controls', 'strings'],
      first(lesson.everyday, limit).map(({ chordNumber, engaged, shapes }) => [
        prettySymbol(chordAt(by, chordNumber, fret).symbol),
        engagedText(engaged),
        gripsText(
          shapes.map(
            (shape) =>
              ranked(compile(setup), shape, fret, chordAt(by, chordNumber, fret)).voicing.strings,
          ),
        ),
      ]),
    ),
  );
  part(
    'With the bar still',
    lesson.moves,
    table(
      ['held', 'press', 'from', 'to', 'strings'],
      first(lesson.moves, limit).map((move) => [
        engagedText(move.held) || '–',
        engagedText([move.pressed]),
        prettySymbol(namesOf(move, fret).from),
        prettySymbol(namesOf(move, fret).to),
        gripsText(move.grips.map(({ strings }) => strings)),
      ]),
    ),
  );
}
