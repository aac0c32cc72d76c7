/** `gripwright voicings --chord SYM`: where a chord lies, easiest first. */
import { prettyName, prettySymbol } from '$lib/theory/display';
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
import { toneText, voicingText } from '$lib/answers/voicingText';
import { loadSetup } from './loadSetup';
import { optionsRefused } from './options';
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

function row({ chord }: Question, necks: number, { voicing, effort }: RankedVoicing): string[] {
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

function printTable(
  setup: Setup,
  question: Question,
  found: RankedVoicings,
  shown: RankedVoicing[],
): void {
  const { combinations, candidates } = found.searched;
  const tones = question.chord.tones
    .map(({ name, degree }) => `${prettyName(name)} (${toneText(degree)})`)
    .join(' ');
  print(`${prettySymbol(question.chord.symbol)}: ${tones}`);
  print(
    `${countText(found.count, 'voicing')} on “${setup.name}”; searched ${countText(combinations, 'combination')} of controls, ${countText(candidates, 'candidate')} in all.`,
  );
  if (found.count === 0) return;
  print('');
  const heading = ['fret', 'controls', 'strings', 'notes', 'tones', 'left out', 'effort'];
  const necks = question.necks.length;
  const columns = necks > 1 ? ['neck', ...heading] : heading;
  print(
    table(
      columns,
      shown.map((each) => row(question, necks, each)),
      [columns.indexOf('fret'), columns.indexOf('effort')],
    ),
  );
  if (shown.length < found.count) print('');
  printShortened(shown.length, found.count);
}

/** Prints the voicings of a chord; where there are none, what would work instead. */
export function voicings(options: VoicingsOptions): void {
  const setup = loadSetup(options.setup);
  const question = asked(setup, options);
  const found = answer(setup, question);
  const most = options.limit === 0 ? found.count : Math.min(options.limit, found.count);
  if (!options.json) {
    const shown = Array.from({ length: most }, (_, index) => found.at(index));
    printTable(setup, question, found, shown);
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
    },
    searched: found.searched,
    count: found.count,
  };
  printJsonList(
    head,
    'voicings',
    firstOf(found, most, (each) => voicingJson(question.chord, each)),
  );
}

/** The first voicings of an answer, each made when its turn comes. */
function* firstOf<T>(
  found: RankedVoicings,
  most: number,
  make: (each: RankedVoicing) => T,
): Generator<T> {
  for (let index = 0; index < most; index++) yield make(found.at(index));
}
