/** `gripwright voicings --chord SYM`: where a chord lies, easiest first. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { chromasIn } from '$lib/theory/pcset';
import { nameText } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { answer } from '$lib/answers/answer';
import type { RankedVoicing, RankedVoicings } from '$lib/engine/rankedVoicings';
import {
  QUESTION_PARTS,
  questionFaultText,
  readQuestion,
  type Question,
  type QuestionTexts,
} from '$lib/answers/question';
import { nearest } from '$lib/answers/nearest';
import { toneText, voicingText } from '$lib/answers/voicingText';
import { loadSetup } from './loadSetup';
import { Refusal, countText, numberText, print, printJsonList, table } from './out';
import { voicingJson } from './voicingJson';

export interface VoicingsOptions extends QuestionTexts {
  readonly setup: string;
  readonly limit: number;
  readonly json?: boolean;
}

/** Faults of the question: impossible ones end with 1, unreadable ones with 2. */
function asked(setup: Setup, texts: QuestionTexts): Question {
  const read = readQuestion(setup, texts);
  if (read.ok) return read.value;
  const unreadable = read.error.some(({ wrong }) => wrong === 'unreadable');
  const sentences = read.error.map((fault) =>
    // what is wrong with a chord symbol is a sentence of its own
    fault.mark === undefined ? `--${questionFaultText(fault)}` : questionFaultText(fault),
  );
  throw new Refusal(sentences, unreadable ? 2 : 1);
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
  if (shown.length < found.count)
    print(
      `\n${numberText(shown.length)} of ${numberText(found.count)} shown; --limit 0 shows all.`,
    );
}

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
