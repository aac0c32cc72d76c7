/** How far a player has come, as the picture of the neck shows it. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { commonRoot } from '$lib/theory/spelling';
import { homeRoots } from '$lib/setup/homeChord';
import type { Setup } from '$lib/setup/setup';
import { holdWords } from '$lib/answers/practiceWords';
import type { Answers } from '$lib/practice/cards';
import { firstFret } from '$lib/practice/frets';
import { chordAt, holdAt, type CoursePosition } from '$lib/practice/position';
import { byDay, knowingOf, type Knowing } from '$lib/practice/progress';
import { AT_A_TIME, openPositions } from '$lib/practice/round';

/** A position as a disc on the neck. */
export interface MapSpot {
  readonly id: string;
  readonly knowing: Knowing;
  /** "G, fret 3, strings 3-4-5: known". */
  readonly spoken: string;
}

/** A chord over the frets where it lies. */
export interface MapRow {
  readonly type: string;
  readonly chord: string;
  /** By fret, from 0 to 11. */
  readonly frets: readonly (readonly MapSpot[])[];
}

/** The neck with all positions that are open, and those that come next. */
export interface PracticeMap {
  /** The root that all chords of the picture have. */
  readonly root: string;
  readonly rows: readonly MapRow[];
  readonly known: number;
  readonly all: number;
  /** The block that is learned now, from 1. */
  readonly block: number;
  readonly blocks: number;
}

const FRETS = 12;

export const KNOWING_WORDS: Readonly<Record<Knowing, string>> = {
  new: 'not begun',
  begun: 'begun',
  known: 'known',
  firm: 'firmly known',
};

/** The root of the open chord where practice begins. */
function homeRootOf(setup: Setup): Chroma {
  const [neck] = setup.necks;
  const root = neck === undefined ? 0 : (homeRoots(neck)[0] ?? 0);
  return chromaOf(root + firstFret(setup, 1));
}

/** The picture of a course and what is known of it. */
export function practiceMap(
  setup: Setup,
  course: readonly CoursePosition[],
  answers: Answers,
): PracticeMap {
  const root = homeRootOf(setup);
  const open = openPositions(course, answers).length;
  const rows = new Map<string, MapSpot[][]>();
  let known = 0;
  for (const [place, position] of course.entries()) {
    const knowing = knowingOf(course, answers, position);
    if (knowing === 'known' || knowing === 'firm') known++;
    if (place >= open && knowing === 'new') continue;
    const fret = chromaOf(root - position.root);
    const row = rows.get(position.type) ?? Array.from({ length: FRETS }, (): MapSpot[] => []);
    rows.set(position.type, row);
    const chord = prettySymbol(chordAt(position, fret).symbol);
    const where = holdWords(setup, holdAt(position, fret));
    const spoken = `${chord}, ${where}: ${KNOWING_WORDS[knowing]}`;
    row[fret]?.push({ id: position.id, knowing, spoken });
  }
  return {
    root: prettyName(commonRoot(root, '')),
    rows: [...rows].map(([type, frets]) => ({
      type,
      chord: prettySymbol(chordAt({ type, root } as CoursePosition, 0).symbol),
      frets,
    })),
    known,
    all: course.length,
    block: Math.max(1, Math.ceil(open / AT_A_TIME)),
    blocks: Math.ceil(course.length / AT_A_TIME),
  };
}

/** One day of the last two weeks. */
export interface DayBar {
  readonly day: number;
  readonly answered: number;
  readonly right: number;
}

/** The last days, today at the end. */
export function lastDays(
  answers: Answers,
  today: number,
  dayOf: (moment: number) => number,
  count = 14,
): readonly DayBar[] {
  const days = byDay(answers, dayOf);
  return Array.from({ length: count }, (_, index) => {
    const day = today - count + 1 + index;
    return { day, ...(days.get(day) ?? { answered: 0, right: 0 }) };
  });
}

/** When something comes again, in words: `in 20 minutes`, `tomorrow`, `in 3 days`. */
export function dueWords(due: number, now: number, dayOf: (moment: number) => number): string {
  const days = dayOf(due) - dayOf(now);
  if (days > 1) return `in ${days} days`;
  if (days === 1) return 'tomorrow';
  const minutes = Math.max(1, Math.round((due - now) / 60_000));
  if (minutes < 60) return minutes === 1 ? 'in a minute' : `in ${minutes} minutes`;
  const hours = Math.round(minutes / 60);
  return hours === 1 ? 'in an hour' : `in ${hours} hours`;
}
