/** `gripwright next --from POSITION`: the chords of a key that are reached with the bar still. */
import { prettySymbol } from '$lib/theory/display';
import { keyText } from '$lib/theory/spelling';
import { engagedText } from '$lib/setup/engagedText';
import { holdText } from '$lib/answers/stepWishes';
import { KEY } from '$lib/answers/commonOptions';
import { HOLD } from '$lib/answers/holdOption';
import { leadsFrom, type LeadsOn } from '$lib/answers/leadsOn';
import { readOptions } from '$lib/answers/options';
import { voicingText } from '$lib/answers/voicingText';
import type { Hold } from '$lib/search/hold';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { inLetters, optionsRefused } from './options';
import { Refusal, print, printJson, table } from './out';
import { voicingJson } from './voicingJson';

interface NextOptions {
  readonly setup: string;
  readonly from: string;
  readonly key?: string;
  readonly json?: boolean;
}

/** Adds the job `next`. */
export function addNext(job: MakeJob): void {
  job('next', 'what leads on from a position: chords of the key reached with the bar still')
    .requiredOption('--from <position>', 'fret, controls or -, strings, such as 8/A,B/3-4-5')
    .option('--key <key>', 'the key, such as Eb or F#m; that of the chord where left out')
    .action((options: NextOptions) => {
      next(options);
    });
}

/** What is done to reach a chord, by how many controls change. */
const REACHED = ['other strings', 'one control', 'two controls'] as const;

function next({ setup: named, json, ...typed }: NextOptions): void {
  const texts = inLetters(typed, { key: 'key' });
  const setup = loadSetup(named);
  const { values, faults } = readOptions({ from: HOLD, key: KEY }, setup, texts);
  const { from } = values;
  if (faults.length > 0 || from === undefined) throw optionsRefused(faults);
  const answer = leadsFrom(setup, from, texts.key);
  if (answer.key === undefined)
    throw new Refusal('--from: what sounds there has no name, so a key is needed: --key.', 1);
  if (json) printJson(nextJson(from, answer));
  else printNext(from, answer);
}

const nextJson = (from: Hold, { key, chords }: LeadsOn) => ({
  from: holdText(from),
  key: key === undefined ? '' : keyText(key),
  chords: chords.map(({ of, voicing, changes, effort, move }) => ({
    symbol: of.chord.symbol,
    number: of.numeral,
    changes,
    voicing: voicingJson(of.chord, { voicing, effort }),
    effort,
    move,
  })),
});

function printNext(from: Hold, { key, chords }: LeadsOn): void {
  print(
    `From ${holdText(from)} with the bar still, in ${key === undefined ? '' : prettySymbol(keyText(key))}:`,
  );
  const rows = chords.map(({ of, voicing, changes, effort, move }) => [
    REACHED[changes] ?? '',
    prettySymbol(of.chord.symbol),
    of.numeral,
    engagedText(voicing.ways[0] ?? []) || '–',
    voicing.strings.join('-'),
    voicingText(of.chord, voicing).notes.join(' '),
    move.total.toFixed(2),
    effort.total.toFixed(2),
  ]);
  print(
    table(
      ['by', 'chord', 'number', 'controls', 'strings', 'notes', 'move', 'effort'],
      rows,
      [6, 7],
    ),
  );
}
