/** `gripwright voicings --chord SYM`: where a chord lies, easiest first. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import type { Chord } from '$lib/theory/chord';
import { textInKey } from '$lib/theory/chordNumber';
import { keyInLetters, noteTextInLetters } from '$lib/theory/typedNames';
import { chromasIn } from '$lib/theory/pcset';
import { nameText } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { answer } from '$lib/answers/answer';
import type { RankedVoicing, RankedVoicings } from '$lib/engine/rankedVoicings';
import {
  QUESTION_PARTS,
  readQuestion,
  type Question,
  type QuestionTexts,
} from '$lib/answers/question';
import { nearest } from '$lib/answers/nearest';
import { octavesFolded, type OctaveRow } from '$lib/answers/positions';
import { fretText, toneText, voicingText } from '$lib/answers/voicingText';
import { loadSetup } from './loadSetup';
import { optionsRefused, typedChord } from './options';
import { countText, print, printJsonList, printShortened, table } from './out';
import { voicingJson } from './voicingJson';

/** The options of the job; what limits the search is still text. */
export interface VoicingsOptions extends QuestionTexts {
  readonly setup: string;
  readonly limit: number;
  readonly json?: boolean;
}

function asked(setup: Setup, texts: QuestionTexts): Question {
  const read = readQuestion(setup, texts);
  if (read.ok) return read.value;
  throw optionsRefused(read.error);
}

/** A row as it is shown; without `octaves` in a list that is told flat. */
interface Shown extends RankedVoicing {
  readonly octaves?: readonly number[];
}

function row({ chord }: Question, necks: number, { voicing, effort, octaves }: Shown): string[] {
  const text = voicingText(chord, voicing);
  return [
    ...(necks > 1 ? [String(voicing.neck)] : []),
    text.fret,
    text.controls || '–',
    text.strings,
    text.notes.join(' '),
    text.tones.map((tone) => tone.text).join(' '),
    text.missing.join(' '),
    effort.total.toFixed(2),
    ...(octaves === undefined
      ? []
      : [octaves.map((fret) => fretText({ fret, slant: voicing.slant })).join(' ')]),
  ];
}

/** What would work where nothing is found, as options to add. */
function printNearest(setup: Setup, texts: QuestionTexts): void {
  const ways = nearest(setup, texts);
  if (ways.length === 0) {
    print('Nothing near it does either.');
    return;
  }
  print('\nWhat would work instead:');
  const rows = ways.map(({ change, words, count }) => {
    const options = QUESTION_PARTS.flatMap((part) =>
      change[part] === undefined || change[part] === (texts[part] ?? '')
        ? []
        : change[part] === ''
          ? [`leave out --${part}`]
          : [`--${part} ${change[part]}`],
    );
    return [`  ${words}`, countText(count, 'voicing'), options.join(', ')];
  });
  print(table(['  change', 'finds', 'options'], rows));
}

/** `G (R) B (3) F (♭7)`, and what any one of is enough: `D♭ (♭5) or D♯ (♯5)`. */
function tonesText({ tones, eitherOf = [] }: Chord): string {
  const told = (degrees: readonly string[]): string[] =>
    tones
      .filter(({ degree }) => degrees.includes(degree))
      .map(({ name, degree }) => `${prettyName(name)} (${toneText(degree)})`);
  const grouped = eitherOf.flat();
  const own = tones.map(({ degree }) => degree).filter((degree) => !grouped.includes(degree));
  return [told(own).join(' '), ...eitherOf.map((group) => told(group).join(' or '))].join(', ');
}

function printTable(
  setup: Setup,
  question: Question,
  found: RankedVoicings,
  rows: readonly OctaveRow[] | undefined,
): void {
  const { combinations, candidates } = found.searched;
  const { chord, key } = question;
  const degree = key === undefined ? '' : `, ${textInKey(chord, key)}`;
  print(`${prettySymbol(chord.symbol)}${degree}: ${tonesText(chord)}`);
  print(
    `${countText(found.count, 'voicing')} on “${setup.name}”; searched ${countText(combinations, 'combination')} of controls, ${countText(candidates, 'candidate')} in all.`,
  );
  if (found.count === 0) return;
  print('');
  const shown = [...shownOf(found, rows)];
  const heading = ['fret', 'controls', 'strings', 'notes', 'tones', 'missing', 'effort'];
  if (rows !== undefined) heading.push('octaves');
  const necks = question.necks.length;
  const columns = necks > 1 ? ['neck', ...heading] : heading;
  print(
    table(
      columns,
      shown.map((each) => row(question, necks, each)),
      [columns.indexOf('fret'), columns.indexOf('effort')],
    ),
  );
  const told = shown.reduce((sum, { octaves = [] }) => sum + 1 + octaves.length, 0);
  if (told < found.count) print('');
  printShortened(told, found.count);
}

/** The parts of a question that notes are typed in, in letters. */
const inLetters = (texts: QuestionTexts): QuestionTexts => ({
  ...(texts.chord === undefined ? {} : { chord: typedChord('--chord', texts.chord) }),
  ...(texts.key === undefined ? {} : { key: keyInLetters(texts.key) }),
  ...(texts.top === undefined ? {} : { top: noteTextInLetters(texts.top) }),
  ...(texts.bass === undefined ? {} : { bass: noteTextInLetters(texts.bass) }),
});

/** Prints the voicings of a chord; where there are none, what would work instead. */
export function voicings(given: VoicingsOptions): void {
  const setup = loadSetup(given.setup);
  const options = { ...given, ...inLetters(given) };
  const question = asked(setup, options);
  const found = answer(setup, question);
  const rows = options.limit === 0 ? undefined : octavesFolded(found, options.limit);
  if (!options.json) {
    printTable(setup, question, found, rows);
    if (found.count === 0) printNearest(setup, options);
    return;
  }
  const { chord } = question;
  const head = {
    chord: {
      symbol: chord.symbol,
      root: nameText(chord.root),
      ...(chord.bass === undefined ? {} : { bass: nameText(chord.bass) }),
      pitchClasses: chromasIn(chord.pitchClasses),
      tones: chord.tones.map(({ degree, name, must }) => ({ degree, note: nameText(name), must })),
      ...(chord.eitherOf === undefined ? {} : { eitherOf: chord.eitherOf }),
    },
    searched: found.searched,
    count: found.count,
  };
  printJsonList(head, 'voicings', jsonOf(question.chord, shownOf(found, rows)));
}

/** The rows to show, each made when its turn comes; all of them, flat, where none are picked. */
function* shownOf(found: RankedVoicings, rows: readonly OctaveRow[] | undefined): Generator<Shown> {
  if (rows !== undefined)
    for (const { index, octaves } of rows) yield { ...found.at(index), octaves };
  else for (let index = 0; index < found.count; index++) yield found.at(index);
}

function* jsonOf(chord: Chord, shown: Iterable<Shown>): Generator<object> {
  for (const { octaves, ...each } of shown)
    yield { ...voicingJson(chord, each), ...(octaves === undefined ? {} : { octaves }) };
}
