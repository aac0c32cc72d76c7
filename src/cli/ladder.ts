/** `gripwright ladder`: a scale in intervals or triads up and down the neck. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { spelled } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { fretText, toneText } from '$lib/answers/voicingText';
import { readLadderQuestion, type AskedLadder, type LadderTexts } from '$lib/answers/scaleQuestion';
import { breakText, offerText, type OfferText } from '$lib/answers/ladderWords';
import { ladderBreak } from '$lib/scales/ladderBreaks';
import { LADDER_INTERVALS, LADDER_WAYS, ladder, type Ladder } from '$lib/scales/ladders';
import { tabOfSteps } from '$lib/formats/stepsTab';
import { tabText } from '$lib/formats/tabText';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { inLetters, optionsRefused } from './options';
import { Refusal, print, printJson, table } from './out';
import { stepJson } from './stepJson';

interface LadderOptions extends LadderTexts {
  readonly setup: string;
  readonly json?: boolean;
}

/** Adds the job `ladder`. */
export function addLadder(job: MakeJob): void {
  job('ladder', 'a scale in sixths, thirds, tenths, octaves or triads along the neck')
    .requiredOption('--scale <name>', 'such as "E major"; a chord such as G7 gives its own')
    .option('--interval <which>', LADDER_INTERVALS.join(', '), 'sixths')
    .option('--strings <strings>', 'only these strings, such as 5,8; any where left out')
    .option('--way <which>', `${LADDER_WAYS.join(', ')} (up and down again)`, 'up')
    .option('--inversion <number>', 'of triads: 0, 1 or 2; the easiest where left out')
    .option('--frets <range>', 'where the bar may lie, such as 0-12')
    .option('--neck <number>', 'the neck, counted from 1')
    .option('--slants <on or off>', 'slanted bar; on where the setup has no pedals')
    .option('--key <key>', 'the key in which a chord is heard')
    .action((options: LadderOptions) => {
      run(options);
    });
}

const INVERSION_WORDS = ['root lowest', 'third lowest', 'fifth lowest'] as const;

function run({ setup: named, json, ...texts }: LadderOptions): void {
  const setup = loadSetup(named);
  const read = readLadderQuestion(setup, inLetters(texts, { scale: 'scale', key: 'key' }));
  if (!read.ok) throw optionsRefused(read.error);
  const { scale, ...question } = read.value;
  const found = ladder(setup, scale, question);
  const broken = ladderBreak(setup, scale, question, found);
  const why = broken === undefined ? '' : breakText(scale, question, broken);
  const more = (broken?.offers ?? []).map((offer) => ({
    ...offerText(offer).change,
    rungs: offer.rungs,
  }));
  const told = [why, moreText(more)].filter((text) => text !== '').join('\n');
  if (found === undefined) throw new Refusal(told, 1);
  if (json)
    printJson({
      scale: scale.name,
      interval: question.interval,
      way: question.way,
      ...(found.inversion === undefined ? {} : { inversion: found.inversion }),
      rungs: found.rungs.map(({ degree, degrees, step }) => ({
        degree,
        degrees,
        ...stepJson(step),
      })),
      total: found.total,
      ...(broken === undefined ? {} : { brokenOff: { why, more } }),
    });
  else {
    printLadder(setup, read.value, found);
    if (told !== '') print(`\n${told}`);
  }
}

/** What has more rungs, as options: `--strings 2,4 (9)`. */
function moreText(offers: readonly (OfferText['change'] & { readonly rungs: number })[]): string {
  const texts = offers.map(({ rungs, ...change }) => {
    const options = Object.entries(change).map(([option, value]) =>
      value === '' ? `without --${option}` : `--${option} ${value}`,
    );
    return `${options.join(' ')} (${rungs})`;
  });
  return texts.length === 0 ? '' : `More rungs: ${texts.join(', ')}.`;
}

function printLadder(
  setup: Setup,
  { scale, interval }: AskedLadder,
  { rungs, total, inversion }: Ladder,
): void {
  const turned = inversion === undefined ? '' : `, ${INVERSION_WORDS[inversion]}`;
  print(
    `${prettySymbol(scale.name)} in ${interval}${turned}: ${rungs.length} rungs, effort ${total.toFixed(2)} in all`,
  );
  print(
    table(
      ['degree', 'fret', 'controls', 'strings', 'notes', 'effort', 'move'],
      rungs.map(({ degree, step: { hold, way, stays, tones, effort, move } }) => [
        toneText(degree),
        fretText(hold),
        [engagedText(way), stays.length === 0 ? '' : `(${engagedText(stays)})`].join(' ').trim() ||
          '–',
        hold.strings.join('-'),
        hold.pitches.map((midi) => prettyPitch(spelled(tones, midi))).join(' '),
        effort.total.toFixed(2),
        move.total.toFixed(2),
      ]),
      [1, 5, 6],
    ),
  );
  const steps = rungs.map(({ step }) => step);
  const above = rungs.map(({ degree }) => (degree === '1' ? 'R' : degree));
  print(`\n${tabText(tabOfSteps({ title: '', setup, steps, above }), 92).trimEnd()}`);
}
