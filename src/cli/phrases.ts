/** `gripwright phrases`: phrases of our own, listed, or one of them on a setup in a key. */
import { prettySymbol } from '$lib/theory/display';
import { keyText } from '$lib/theory/spelling';
import { placePhrase } from '$lib/answers/phrases';
import { lackText } from '$lib/answers/tuneText';
import { ON_OR_OFF } from '$lib/answers/commonOptions';
import { readOptions } from '$lib/answers/options';
import { tabOfSteps } from '$lib/formats/stepsTab';
import { tabText } from '$lib/formats/tabText';
import type { Setup } from '$lib/setup/setup';
import { PHRASES } from '$lib/phrases/phrases';
import type { PlacedPhrase } from '$lib/phrases/placed';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { keyOf, optionsRefused } from './options';
import { Refusal, print, printJson, table } from './out';
import { tuneStepJson } from './tuneJson';
import { TUNE_HEADING, TUNE_RIGHT, tuneRows } from './tuneTable';

interface PhrasesOptions {
  readonly setup: string;
  readonly place?: string;
  readonly key: string;
  readonly slants?: string;
  readonly json?: boolean;
}

/** Adds the job `phrases`. */
export function addPhrases(job: MakeJob): void {
  job('phrases', 'phrases for openings, endings, turnarounds and fills, on any setup in any key')
    .option('--place <phrase>', 'one of them, by its id, where it lies best on the setup')
    .option('--key <key>', 'the key, such as Eb or F#m', 'C')
    .option('--slants <on or off>', 'slanted bar; on where the setup has no pedals')
    .action((options: PhrasesOptions) => {
      phrases(options);
    });
}

function phrases({ setup: named, place, key: text, json, ...texts }: PhrasesOptions): void {
  if (place === undefined) {
    if (json) printJson({ phrases: PHRASES });
    else printList();
    return;
  }
  const setup = loadSetup(named);
  const { values, faults } = readOptions({ slants: ON_OR_OFF }, setup, texts);
  if (faults.length > 0) throw optionsRefused(faults);
  const found = placePhrase(setup, place, keyOf(text), values.slants);
  if (found === undefined)
    throw new Refusal(
      `--place: found “${place}”; allowed are ${PHRASES.map(({ id }) => id).join(', ')}.`,
      1,
    );
  if (json) printJson(placedJson(found));
  else printPlaced(setup, found);
}

function printList(): void {
  print(
    table(
      ['phrase', 'for', 'over', 'played in', 'how it is made'],
      PHRASES.map(({ id, use, chords, texture, made }) => [
        id,
        use,
        prettySymbol(chords),
        texture,
        made,
      ]),
    ),
  );
}

const placedJson = ({ phrase, piece, arrangement: { ways, lacks } }: PlacedPhrase) => ({
  phrase,
  key: piece.key === undefined ? '' : keyText(piece.key),
  steps: (ways[0]?.steps ?? []).map(tuneStepJson),
  total: ways[0]?.total ?? null,
  lacking: lacks.map(lackText),
});

function printPlaced(
  setup: Setup,
  { phrase, piece, arrangement: { ways, lacks } }: PlacedPhrase,
): void {
  const [best] = ways;
  const key = piece.key === undefined ? '' : ` in ${prettySymbol(keyText(piece.key))}`;
  print(`${phrase.name}${key}: ${phrase.made}`);
  for (const lack of lacks) print(lackText(lack));
  if (best === undefined)
    throw new Refusal(`Nothing of the phrase “${phrase.name}” can be played on this setup.`, 1);
  print(`\n${best.total.toFixed(2)}\n${table(TUNE_HEADING, tuneRows(best), TUNE_RIGHT)}`);
  print(`\n${tabText(tabOfSteps({ title: '', setup, steps: best.steps }), 92).trim()}`);
}
