/** `gripwright between --from POSITION --to POSITION|CHORD`: passages with notes or chords of a scale. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { pitchText } from '$lib/theory/pitch';
import { passageWords } from '$lib/answers/passageWords';
import {
  passageOffers,
  passagesFor,
  type Passages,
  type PassageTexts,
} from '$lib/answers/passages';
import type { Passage } from '$lib/scales/passages';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { inLetters, optionsRefused } from './options';
import { Refusal, print, printJson, table } from './out';
import { tuneStepJson } from './tuneJson';
import { TUNE_HEADING, TUNE_RIGHT, tuneRows } from './tuneTable';

interface BetweenOptions extends PassageTexts {
  readonly setup: string;
  readonly json?: boolean;
}

/** Adds the job `between`. */
export function addBetween(job: MakeJob): void {
  job('between', 'passages from a position to another, or to a chord, in notes of a scale')
    .requiredOption('--from <position>', 'fret, controls or -, strings, such as 8/-/4-5-6')
    .requiredOption('--to <position or chord>', 'such as 3/A,B/4-5-6, or F')
    .option('--scale <scale>', 'such as "C major"; what belongs to the chords where left out')
    .option('--key <key>', 'the same by a key, such as Eb or F#m')
    .option('--slants <on or off>', 'slanted bar; on where the setup has no pedals')
    .action((options: BetweenOptions) => {
      between(options);
    });
}

function between({ setup: named, json, ...texts }: BetweenOptions): void {
  const setup = loadSetup(named);
  const letters = inLetters(texts, { to: 'chord', scale: 'scale', key: 'key' });
  const found = passagesFor(setup, letters);
  if (!found.ok) throw optionsRefused(found.error);
  if (json) printJson(passagesJson(found.value));
  else if (found.value.passages.length > 0) printPassages(found.value);
  if (found.value.passages.length === 0) {
    const offers = passageOffers(setup, letters).map(
      ({ words, change, count }) =>
        `${words}: ${Object.entries(change)
          .map(([option, value]) =>
            value === '' ? `without --${option}` : `--${option} ${JSON.stringify(value)}`,
          )
          .join(' ')} (${count})`,
    );
    const near = offers.length === 0 ? '' : ` What finds some: ${offers.join('; ')}.`;
    throw new Refusal(`Nothing of ${found.value.scale.name} can be played between them.${near}`, 1);
  }
}

const passageJson = (passage: Passage) => ({
  words: passageWords(passage),
  kind: passage.kind,
  notes: passage.line.map(pitchText),
  steps: passage.way.steps.map(tuneStepJson),
  total: passage.way.total,
});

const passagesJson = ({ scale, passages }: Passages) => ({
  scale: scale.name,
  passages: passages.map(passageJson),
});

function printPassages({ scale, passages }: Passages): void {
  print(`Between them in ${prettySymbol(scale.name)}, the easiest first:`);
  passages.forEach((passage, at) => {
    const { line, way } = passage;
    const notes = line.map((pitch) => prettyPitch(pitch)).join(' ');
    print(`\n${at + 1}. ${passageWords(passage)}: ${notes}, ${way.total.toFixed(2)}`);
    print(table(TUNE_HEADING, tuneRows(way), TUNE_RIGHT));
  });
}
