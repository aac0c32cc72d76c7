/** `gripwright practice --setup F`: the course of a setup, and the cards of today. */
import { prettySymbol } from '$lib/theory/display';
import { pitchText, type Pitch } from '$lib/theory/pitch';
import { spelled } from '$lib/theory/toneNames';
import { faultText } from '$lib/faults';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { pitchesOf } from '$lib/search/hold';
import { askedWords, holdWords } from '$lib/answers/practiceWords';
import { holdText } from '$lib/answers/stepWishes';
import { turnOf, type Answers, type Card } from '$lib/practice/cards';
import { courseOf } from '$lib/practice/course';
import { fretOfTurn } from '$lib/practice/frets';
import { chordAt, holdAt, type CoursePosition } from '$lib/practice/position';
import { knowingOf } from '$lib/practice/progress';
import { readPractice } from '$lib/practice/record';
import { AT_A_TIME, todayOf } from '$lib/practice/round';
import { standingOf } from '$lib/practice/schedule';
import { taskOf } from '$lib/practice/task';
import { readFileText } from './files';
import { wholeNumber, type MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { Refusal, countText, print, printJson, printShortened, table } from './out';

interface PracticeOptions {
  readonly setup: string;
  readonly progress?: string;
  readonly limit: number;
  readonly json?: boolean;
}

/** Adds the job `practice`. */
export function addPractice(job: MakeJob): void {
  job('practice', 'a first course for a setup, ten positions at a time, and the cards of today')
    .option('--progress <file>', 'what was practised already, as Practice saves it as a file')
    .option('--limit <number>', 'how many positions to show; 0 shows all', wholeNumber, AT_A_TIME)
    .action((options: PracticeOptions) => {
      practice(options);
    });
}

function answersIn(path: string | undefined): Answers {
  if (path === undefined) return new Map();
  const read = readPractice(readFileText(path));
  if (read.ok) return read.value.answers;
  throw new Refusal(
    [`${path} is not what was practised:`, ...read.error.map((each) => `  ${faultText(each)}`)],
    1,
    read.error,
  );
}

/** A position as it is asked first. */
function firstly(setup: Setup, position: CoursePosition) {
  const fret = fretOfTurn(setup, [position], 0);
  const hold = holdAt(position, fret);
  const chord = chordAt(position, fret);
  const notes = pitchesOf(setup, hold).map((midi): Pitch => spelled(chord.tones, midi));
  return { hold, chord, notes };
}

function practice(options: PracticeOptions): void {
  const setup = loadSetup(options.setup);
  const answers = answersIn(options.progress);
  const course = courseOf(setup);
  const now = Date.now();
  const dayBegan = new Date(now).setHours(0, 0, 0, 0);
  const { due, fresh } = todayOf({ course, answers, now, dayBegan });
  const cards = [...due, ...fresh];
  const shown = options.limit === 0 ? course : course.slice(0, options.limit);
  if (options.json) {
    printJson({
      positions: course.length,
      course: shown.map((position, place) => positionJson(setup, answers, course, position, place)),
      today: cards.map((card) => cardJson(setup, answers, card)),
    });
    return;
  }
  printCourse(setup, answers, course, shown);
  print('');
  printToday(setup, answers, due, fresh);
}

function positionJson(
  setup: Setup,
  answers: Answers,
  course: readonly CoursePosition[],
  position: CoursePosition,
  place: number,
) {
  const { hold, chord, notes } = firstly(setup, position);
  const near = course.findIndex(({ id }) => id === position.near);
  return {
    number: place + 1,
    block: Math.floor(place / AT_A_TIME) + 1,
    id: position.id,
    chord: chord.symbol,
    position: holdText(hold),
    neck: hold.neck,
    fret: hold.fret,
    slant: hold.slant,
    controls: hold.engaged,
    strings: hold.strings,
    notes: notes.map(pitchText),
    effort: position.effort,
    share: position.weight,
    near: near < 0 ? null : near + 1,
    knowing: knowingOf(course, answers, position),
  };
}

function cardJson(setup: Setup, answers: Answers, card: Card) {
  const all = answers.get(card.id);
  const task = taskOf(setup, card, turnOf(all));
  return {
    id: card.id,
    kind: card.kind,
    asks: askedWords(setup, task),
    chord: task.kind === 'hear' || task.kind === 'name' ? null : task.chord.symbol,
    due: all === undefined ? null : new Date(standingOf(all).due).toISOString(),
    isNew: all === undefined,
  };
}

function printCourse(
  setup: Setup,
  answers: Answers,
  course: readonly CoursePosition[],
  shown: readonly CoursePosition[],
): void {
  print(`${countText(course.length, 'position')} to learn on “${setup.name}”, ten at a time.\n`);
  const rows = shown.map((position, place) => {
    const { hold, chord, notes } = firstly(setup, position);
    const near = course.findIndex(({ id }) => id === position.near);
    return [
      String(place + 1),
      prettySymbol(chord.symbol),
      ...(setup.necks.length > 1 ? [String(hold.neck)] : []),
      String(hold.fret),
      engagedText(hold.engaged) || '–',
      hold.strings.join('-'),
      notes.map((note) => prettySymbol(pitchText(note))).join(' '),
      position.effort.toFixed(2),
      near < 0 ? '–' : String(near + 1),
      knowingOf(course, answers, position),
    ];
  });
  const head = [
    '',
    'chord',
    ...(setup.necks.length > 1 ? ['neck'] : []),
    'fret',
    'controls',
    'strings',
  ];
  const columns = [...head, 'notes', 'effort', 'near', 'known'];
  print(
    table(columns, rows, [
      0,
      columns.indexOf('fret'),
      columns.indexOf('effort'),
      columns.indexOf('near'),
    ]),
  );
  if (shown.length < course.length) print('');
  printShortened(shown.length, course.length);
}

function printToday(
  setup: Setup,
  answers: Answers,
  due: readonly Card[],
  fresh: readonly Card[],
): void {
  if (due.length + fresh.length === 0) {
    print('Nothing is left for today.');
    return;
  }
  print(`Today: ${countText(due.length, 'card')} due, ${fresh.length} new.\n`);
  const rows = [...due, ...fresh].map((card) => {
    const all = answers.get(card.id);
    const task = taskOf(setup, card, turnOf(all));
    const shownHold = task.kind === 'name' ? ` ${holdWords(setup, task.hold)}` : '';
    return [all === undefined ? 'new' : 'due', card.kind, `${askedWords(setup, task)}${shownHold}`];
  });
  print(table(['', 'card', 'asks'], rows));
}
