/** `gripwright scale`: a scale under the bar, what each control adds to it, and its pockets. */
import { prettyName, prettyPitch, prettySymbol } from '$lib/theory/display';
import { nameText, pitchText } from '$lib/theory/pitch';
import type { Scale } from '$lib/theory/scales';
import { toneAt } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { toneText } from '$lib/answers/voicingText';
import { readScaleQuestion, type ScaleQuestion, type ScaleTexts } from '$lib/answers/scaleQuestion';
import { scaleAtBar, type ScaleString } from '$lib/scales/atBar';
import {
  inPocketOrder,
  pocketsIn,
  priced,
  runThrough,
  type PocketStretch,
  type PricedPocket,
} from '$lib/scales/pockets';
import { spelledIn } from '$lib/scales/sequence';
import { tabOfSteps } from '$lib/formats/stepsTab';
import { tabText } from '$lib/formats/tabText';
import { wholeNumber, type MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { inLetters, optionsRefused } from './options';
import { print, printJson, printShortened, table } from './out';
import { stepJson } from './stepJson';

interface ScaleOptions extends ScaleTexts {
  readonly setup: string;
  readonly limit: number;
  readonly json?: boolean;
}

/** Adds the job `scale`. */
export function addScale(job: MakeJob): void {
  job('scale', 'a scale under the bar, what each control adds to it, and its pockets')
    .requiredOption('--scale <name>', 'such as "G mixolydian"; a chord such as G7 gives its own')
    .option('--key <key>', 'the key in which a chord is heard')
    .option('--neck <number>', 'the neck, counted from 1')
    .option('--fret <fret>', 'where the bar lies; at the nut where nothing is said')
    .option('--frets <range>', 'several of its places, such as 0-12')
    .option('--controls <ids>', 'controls engaged already, such as A,RKR:half')
    .option('--pocket <frets>', 'pockets of 0, 1, 2 or 3 frets, with the best run through each')
    .option('--limit <number>', 'how many pockets to show; 0 shows all', wholeNumber, 8)
    .action((options: ScaleOptions) => {
      scale(options);
    });
}

/** What is found at one place of the bar. */
interface At {
  readonly fret: number;
  readonly strings: readonly ScaleString[];
}

/** The pockets in their order, each with its run made when it is asked for. */
function pocketsOf(
  setup: Setup,
  { scale: asked, neck }: ScaleQuestion,
  stretch: PocketStretch,
  within: readonly [number, number],
): PricedPocket[] {
  const found = pocketsIn(setup, asked, neck, stretch, within);
  return inPocketOrder(found.map((each) => priced(setup, asked, neck, each)));
}

function scale(options: ScaleOptions): void {
  const setup = loadSetup(options.setup);
  const read = readScaleQuestion(setup, inLetters(options, { scale: 'scale', key: 'key' }));
  if (!read.ok) throw optionsRefused(read.error);
  const question = read.value;
  const { scale: asked, neck, frets, engaged, pocket } = question;
  const places: At[] = [];
  for (let fret = frets[0]; fret <= frets[1]; fret++)
    places.push({ fret, strings: scaleAtBar(setup, asked, { neck, fret, engaged }) });
  const within = options.frets === undefined ? ([0, setup.frets] as const) : frets;
  const pockets = pocket === undefined ? [] : pocketsOf(setup, question, pocket, within);
  const shown = options.limit === 0 ? pockets : pockets.slice(0, options.limit);
  if (options.json) {
    printJson({
      scale: { name: asked.name, root: nameText(asked.root), type: asked.type },
      notes: asked.tones.map(({ name }) => nameText(name)),
      degrees: asked.tones.map(({ degree }) => degree),
      strings: stringsJson(asked, places),
      pockets: shown.map((each) => pocketJson(setup, question, each)),
      ...(pocket === undefined ? {} : { count: pockets.length }),
    });
    return;
  }
  print(
    `${prettySymbol(asked.name)}: ${asked.tones.map(({ name, degree }) => `${prettyName(name)} (${toneText(degree)})`).join(' ')}`,
  );
  for (const place of places) printPlace(question, place);
  if (pocket !== undefined) printPockets(setup, question, shown, pockets.length);
}

const noteJson = (asked: Scale, pitch: number) => pitchText(spelledIn(asked, pitch));
const degreeOf = (asked: Scale, pitch: number): string => toneAt(asked.tones, pitch)?.degree ?? '';

/** By string, over all places of the bar. */
const stringsJson = (asked: Scale, places: readonly At[]) =>
  (places[0]?.strings ?? []).map(({ string }, at) => {
    const here = places.flatMap(({ fret, strings }) => {
      const own = strings[at];
      return own === undefined ? [] : [{ fret, ...own }];
    });
    const inScale = here.filter((each) => each.inScale);
    return {
      string,
      notes: inScale.map(({ pitch }) => noteJson(asked, pitch)),
      at: inScale.map(({ fret, pitch }) => ({
        fret,
        note: noteJson(asked, pitch),
        pitch,
        degree: degreeOf(asked, pitch),
      })),
      added: here.flatMap(({ fret, added }) =>
        added.map(({ control, pitch }) => ({
          control: control.id,
          state: control.state,
          fret,
          note: noteJson(asked, pitch),
          pitch,
          degree: degreeOf(asked, pitch),
        })),
      ),
    };
  });

function pocketJson(setup: Setup, { scale: asked, neck }: ScaleQuestion, pocket: PricedPocket) {
  const { frets, notes, range, tones, octaves, perNote } = pocket;
  const { total, steps } = runThrough(setup, asked, neck, pocket);
  return {
    frets,
    notes: notes.map((pitch) => noteJson(asked, pitch)),
    range: range.map((pitch) => noteJson(asked, pitch)),
    tones,
    octaves,
    effort: total,
    effortPerNote: perNote,
    run: steps.map((step) => ({
      degree: degreeOf(asked, step.hold.pitches[0] ?? 0),
      ...stepJson(step),
    })),
  };
}

function printPlace({ scale: asked, engaged }: ScaleQuestion, { fret, strings }: At): void {
  const noteText = (pitch: number): string =>
    `${prettyPitch(spelledIn(asked, pitch))} (${toneText(degreeOf(asked, pitch))})`;
  const held = engaged.length === 0 ? '' : `, ${engagedText(engaged)} engaged`;
  print(`\nfret ${fret}${held}`);
  print(
    table(
      ['string', 'note', 'one control adds'],
      strings.map(({ string, pitch, inScale, added }) => [
        String(string),
        inScale ? noteText(pitch) : '–',
        added
          .map(({ control, pitch: to }) => `${engagedText([control])} ${noteText(to)}`)
          .join(', '),
      ]),
      [0],
    ),
  );
}

/** The nearest stretch of frets that has some, as an option. */
function nearestText(
  setup: Setup,
  { scale: asked, neck, frets, pocket = 0 }: ScaleQuestion,
): string {
  const [low] = frets;
  const [near] = pocketsIn(setup, asked, neck, pocket)
    .map((each) => each.frets)
    .sort((a, b) => Math.abs(a[0] - low) - Math.abs(b[0] - low));
  return near === undefined ? '' : ` The nearest is at --frets ${near.join('-')}.`;
}

function printPockets(
  setup: Setup,
  question: ScaleQuestion,
  shown: readonly PricedPocket[],
  all: number,
): void {
  const { scale: asked, neck, pocket = 0 } = question;
  const tones = asked.tones.length;
  const noteText = (pitch: number): string => prettyPitch(spelledIn(asked, pitch));
  print(`\nPockets of ${pocket === 1 ? '1 fret' : `${pocket} frets`}, the run up and down`);
  if (shown.length === 0) {
    print(`There is none: the neck has no note of the scale there.${nearestText(setup, question)}`);
    return;
  }
  print(
    table(
      ['frets', 'tones', 'unbroken', 'octaves', 'effort', 'a note'],
      shown.map((each) => [
        each.frets[0] === each.frets[1] ? String(each.frets[0]) : each.frets.join('-'),
        `${each.tones} of ${tones}`,
        each.range.map(noteText).join('-'),
        String(each.octaves),
        each.total.toFixed(2),
        each.perNote.toFixed(2),
      ]),
      [0, 3, 4, 5],
    ),
  );
  printShortened(shown.length, all);
  const [best] = shown;
  if (best === undefined) return;
  const { steps } = runThrough(setup, asked, neck, best);
  const [low, high] = best.frets;
  print(`\nThe best run, ${low === high ? `fret ${low}` : `frets ${low}-${high}`}`);
  print(tabText(tabOfSteps({ title: '', setup, steps }), 92).trim());
}
