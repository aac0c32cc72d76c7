/** `gripwright voicings --chord SYM`: where a chord lies, easiest first. */
import { prettyName, prettySymbol } from '$lib/theory/display';
import { chromasIn } from '$lib/theory/pcset';
import { nameText, pitchText } from '$lib/theory/pitch';
import { spelled, toneAt } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { answer, type Answer, type RankedVoicing } from '$lib/effort/answer';
import {
  questionFaultText,
  readQuestion,
  type Question,
  type QuestionTexts,
} from '$lib/effort/question';
import { loadSetup } from './loadSetup';
import { Refusal, print, printJson, table } from './out';

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
  throw new Refusal(read.error.map(questionFaultText), unreadable ? 2 : 1);
}

const jsonOf = ({ chord }: Question, { voicing, effort }: RankedVoicing) => ({
  neck: voicing.neck,
  fret: voicing.fret,
  slant: voicing.slant,
  strings: voicing.strings,
  frets: voicing.frets,
  notes: voicing.pitches.map((midi) => pitchText(spelled(chord.tones, midi))),
  pitches: voicing.pitches,
  tones: voicing.pitches.map((midi) => toneAt(chord.tones, midi)?.degree ?? ''),
  missing: voicing.missing,
  ways: voicing.ways,
  effort,
});

function row({ chord }: Question, necks: number, { voicing, effort }: RankedVoicing): string[] {
  const lowToHigh = [...voicing.pitches].sort((a, b) => a - b);
  const fret =
    voicing.slant === 0 ? String(voicing.fret) : `${voicing.fret}/${voicing.fret + voicing.slant}`;
  return [
    ...(necks > 1 ? [String(voicing.neck)] : []),
    fret,
    engagedText(voicing.ways[0] ?? []) || '–',
    voicing.strings.join('-'),
    lowToHigh
      .map((midi) => spelled(chord.tones, midi))
      .map((pitch) => `${prettyName(pitch)}${pitch.octave}`)
      .join(' '),
    lowToHigh.map((midi) => prettySymbol(toneAt(chord.tones, midi)?.degree ?? '')).join(' '),
    voicing.missing.map((degree) => prettySymbol(degree)).join(' '),
    effort.total.toFixed(2),
  ];
}

function printTable(setup: Setup, question: Question, found: Answer, shown: RankedVoicing[]): void {
  const { combinations, candidates } = found.searched;
  const tones = question.chord.tones
    .map(({ name, degree }) => `${prettyName(name)} (${prettySymbol(degree)})`)
    .join(' ');
  print(`${prettySymbol(question.chord.symbol)}: ${tones}`);
  print(
    `${found.count} voicings on ${setup.name}; searched ${combinations} combinations, ${candidates} candidates.`,
  );
  if (found.count === 0) {
    print(`Nothing matches. Try ${hints(question).join(', or ')}.`);
    return;
  }
  print('');
  const heading = ['fret', 'controls', 'strings', 'notes', 'tones', 'missing', 'effort'];
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
    print(`\n${shown.length} of ${found.count} shown; --limit 0 shows all.`);
}

/** What would widen a search that found nothing. */
function hints(question: Question): string[] {
  return [
    ...(question.match === 'complete' ? ['--match lean'] : []),
    ...(question.match === 'rootless' ? [] : ['--match rootless']),
    ...(question.slants ? [] : ['--slants on']),
    'other --sizes',
    'a wider range of --frets',
  ];
}

export function voicings(options: VoicingsOptions): void {
  const setup = loadSetup(options.setup);
  const question = asked(setup, options);
  const found = answer(setup, question);
  const most = options.limit === 0 ? found.count : Math.min(options.limit, found.count);
  const shown = Array.from({ length: most }, (_, place) => found.at(place));
  if (!options.json) {
    printTable(setup, question, found, shown);
    return;
  }
  const { chord } = question;
  printJson({
    chord: {
      symbol: chord.symbol,
      root: nameText(chord.root),
      ...(chord.bass === undefined ? {} : { bass: nameText(chord.bass) }),
      pitchClasses: chromasIn(chord.pitchClasses),
      tones: chord.tones.map(({ degree, name, must }) => ({ degree, note: nameText(name), must })),
    },
    searched: found.searched,
    count: found.count,
    voicings: shown.map((each) => jsonOf(question, each)),
  });
}
