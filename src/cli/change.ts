/** `gripwright change`: what a control added, taken away or changed gives and takes. */
import { prettySymbol, typeName } from '$lib/theory/display';
import { textInLetters } from '$lib/theory/typedText';
import { signed } from '$lib/theory/signed';
import { copied } from '$lib/setup/edits/copied';
import { proposalName, proposed, type Proposal } from '$lib/setup/proposal';
import { hasControlForm } from '$lib/setup/controlText';
import { setupText } from '$lib/setup/writeSetup';
import { engagedText } from '$lib/setup/engagedText';
import { faultText } from '$lib/faults';
import type { Setup } from '$lib/setup/setup';
import { RANGE, readRange } from '$lib/answers/questionParts';
import { moveText } from '$lib/answers/moveText';
import { voicingText } from '$lib/answers/voicingText';
import { changeBetween, countShapes, mostUsedFirst, type Change } from '$lib/coverage/change';
import { shapeNow } from '$lib/coverage/changedShape';
import { usualShapes } from '$lib/coverage/shapeOptions';
import { scoreOfChange, scoreOfPart } from '$lib/coverage/clarity';
import { KINDS, type ChangeKind } from '$lib/coverage/changeKinds';
import { alongTheNeck, changedVoicing, type ChangedVoicing } from '$lib/coverage/changedVoicing';
import { fretsWithin } from '$lib/engine/shapes';
import { yardstick } from '$lib/coverage/yardstick';
import { BAND_SIGNS } from '$lib/strings/bands';
import { capacityText, overCapacity } from '$lib/strings/rig/overCapacity';
import { warningsOfChange } from '$lib/strings/warnings';
import { collect, wholeNumber, type MakeJob } from './job';
import { writeOut } from './files';
import { printLesson } from './lesson';
import { loadSetup } from './loadSetup';
import { withSongsShown, type SongOptions } from './songFiles';
import { BEFORE_AFTER, measureBySongs } from './songs';
import { Refusal, countText, numberText, print, printJson, printShortened, table } from './out';
import { printWarnings } from './stringWarnings';
import { voicingJson } from './voicingJson';
import { loadRepertoire } from './weighing';

interface ChangeOptions extends SongOptions {
  readonly setup: string;
  readonly json?: boolean;
  readonly repertoire?: string;
  readonly with?: readonly string[];
  readonly without?: string;
  readonly open?: readonly string[];
  readonly learn?: string;
  readonly fret?: number;
  readonly frets?: string;
  readonly sizes?: string;
  readonly limit?: number;
  readonly out?: string;
}

/** How many of each kind are listed where nothing is said. */
const LISTED = 20;

function proposalOf(options: ChangeOptions): Proposal {
  const wrong = options.with?.find((text) => !hasControlForm(text));
  if (wrong !== undefined)
    throw new Refusal(
      `--with: found “${wrong}”; allowed is a station and its pulls, such as LKV:5-1,10-1.`,
      2,
    );
  const without = options.without?.split(',').map((id) => id.trim());
  const proposal: Proposal = {
    ...(options.with === undefined ? {} : { with: options.with }),
    ...(without === undefined ? {} : { without }),
    ...(options.open === undefined
      ? {}
      : { open: options.open.map((text) => textInLetters('string', text)) }),
  };
  if (Object.keys(proposal).length === 0)
    throw new Refusal('change: --with, --without, --open or --learn says what to look at.', 2);
  return proposal;
}

/** A range within bounds: what is no range is wrong usage, what is outside is impossible. */
function rangeOf(
  option: string,
  text: string | undefined,
  bounds: readonly [number, number],
): readonly [number, number] | undefined {
  if (text === undefined) return undefined;
  const range = readRange(text, bounds);
  if (range === undefined)
    throw new Refusal(
      `${option}: found “${text}”; allowed is a number or a range within ${bounds.join('-')}.`,
      RANGE.test(text) ? 1 : 2,
    );
  return range;
}

const jsonOf = ({ chords, before, ...voicing }: ChangedVoicing) => {
  const [chord] = chords;
  return {
    chords: chords.map(({ symbol }) => symbol),
    ...(chord === undefined ? {} : voicingJson(chord, voicing)),
    ...(before === undefined ? {} : { effortBefore: before }),
  };
};

function changeJson(change: Change, frets: readonly [number, number], limit: number) {
  const { by, shapes, all, gain, gainByType } = change;
  const before = countShapes(all.before, by, frets);
  const after = countShapes(all.after, by, frets);
  const of = (counted: typeof before, type: string): number =>
    counted.byType.find((each) => each.type === type)?.count ?? 0;
  const list = (kind: ChangeKind) => ({
    ...countShapes(shapes[kind].map(shapeNow), by, frets),
    voicings: alongTheNeck(change, kind, frets, limit).map(({ changed, fret }) =>
      jsonOf(changedVoicing(change, changed, fret)),
    ),
  });
  const score = scoreOfChange(change);
  return {
    gain,
    score,
    strings: warningsOfChange(change.before, change.after),
    types: by.types.map((type, index) => ({
      type,
      before: of(before, type),
      after: of(after, type),
      gain: gainByType[index] ?? 0,
      score: scoreOfPart(gainByType[index] ?? 0, gain, score),
    })),
    gained: list('gained'),
    lost: list('lost'),
    easier: list('easier'),
    harder: list('harder'),
  };
}

const WORDS: Readonly<Record<ChangeKind, string>> = {
  gained: 'New',
  lost: 'Lost',
  easier: 'Easier',
  harder: 'Harder',
};

function printChange(change: Change, frets: readonly [number, number], at: number, most: number) {
  const { by, shapes, before } = change;
  const numbers = changeJson(change, frets, 1);
  print(
    `“${before.name}”: ${KINDS.map((kind) => `${numberText(numbers[kind].count)} ${WORDS[kind].toLowerCase()}`).join(', ')}; score ${signed(numbers.score, 1)}.\n`,
  );
  const many = (kind: ChangeKind, type: string): string => {
    const count = numbers[kind].byType.find((each) => each.type === type)?.count ?? 0;
    return count === 0 ? '' : numberText(count);
  };
  print(
    table(
      ['chord type', 'before', 'after', ...KINDS.map((kind) => WORDS[kind].toLowerCase()), 'score'],
      numbers.types
        .filter(({ before, after }) => before + after > 0)
        .map((each) => [
          typeName(each.type),
          numberText(each.before),
          numberText(each.after),
          ...KINDS.map((kind) => many(kind, each.type)),
          each.gain === 0 ? '' : signed(each.score, 1),
        ]),
      [1, 2, 3, 4, 5, 6, 7],
    ),
  );
  printWarnings('Strings', warningsOfChange(before, change.after));
  const rods = overCapacity(change.after);
  if (rods.length > 0) print('\nRods');
  for (const each of rods)
    print(`${BAND_SIGNS.near} ${capacityText(each, change.after.necks.length)}.`);
  for (const kind of KINDS) {
    const here = mostUsedFirst(
      by,
      shapes[kind].filter((each) => fretsWithin(shapeNow(each), [at, at]).length > 0),
    );
    if (here.length === 0) continue;
    const shown = most === 0 ? here : here.slice(0, most);
    print(
      `\n${WORDS[kind]}, with the bar at fret ${at} and so along the neck: ${countText(here.length, 'grip')}, the most used chords first`,
    );
    print(
      table(
        ['chord', 'move', 'controls', 'strings', 'notes', 'tones'],
        shown.map((each) =>
          row(
            each.after === undefined ? before : change.after,
            changedVoicing(change, each, at),
            by.types.length,
          ),
        ),
      ),
    );
    printShortened(shown.length, here.length);
  }
}

/** The chord and the move first: `Gm`, `with one lever, 2.30 → 1.60`. */
function row(setup: Setup, each: ChangedVoicing, most: number): string[] {
  const { chords, voicing, effort, before } = each;
  const [chord] = chords;
  if (chord === undefined) return [];
  const text = voicingText(chord, voicing);
  return [
    chords
      .slice(0, most)
      .map(({ symbol }) => prettySymbol(symbol))
      .join(' '),
    moveText(setup, voicing.ways[0] ?? [], effort.total, before?.total, 2),
    engagedText(voicing.ways[0] ?? []) || '–',
    text.strings,
    text.notes.join(' '),
    text.tones.map((tone) => tone.text).join(' '),
  ];
}

/** The setup as it would be; what cannot be done is refused with every fault. */
function changed(setup: Setup, proposal: Proposal): Setup {
  const after = proposed(setup, proposal);
  if (after.ok) return after.value;
  throw new Refusal(
    after.error.map((fault) =>
      /^(with|without|open)$/.test(fault.path) ? `--${faultText(fault)}` : faultText(fault),
    ),
    1,
  );
}

async function change(options: ChangeOptions): Promise<void> {
  const setup = loadSetup(options.setup);
  const at = options.fret ?? 0;
  if (at > setup.frets)
    throw new Refusal(`--fret: found ${at}; this setup has frets 0 to ${setup.frets}.`, 1);
  const by = yardstick(loadRepertoire(options.repertoire));
  if (options.learn !== undefined) {
    if (options.with ?? options.without ?? options.open ?? options.out)
      throw new Refusal('change: --learn looks at the setup as it is, without a change.', 2);
    printLesson(setup, options.learn, by, at, options);
    return;
  }
  const proposal = proposalOf(options);
  const frets = rangeOf('--frets', options.frets, [0, setup.frets]) ?? [0, setup.frets];
  const usual = usualShapes(setup);
  const sizes = rangeOf('--sizes', options.sizes, [2, 6]) ?? usual.sizes;
  const after = changed(setup, proposal);
  const songs = await measureBySongs(setup, after, options, 'change', BEFORE_AFTER);
  const between = changeBetween(setup, after, by, { ...usual, sizes });
  // written before anything is told: a full disk is the answer then
  if (options.out !== undefined) {
    // two setups of one name cannot be told apart on the page
    const named = copied(after, proposalName(proposal));
    await writeOut(options.out, new TextEncoder().encode(setupText(named)));
  }
  songs?.print();
  if (options.json)
    printJson({
      setup: setup.name,
      proposal,
      ...songs?.json,
      ...changeJson(between, frets, options.limit ?? LISTED),
    });
  else {
    printChange(between, frets, at, options.limit ?? LISTED);
    if (options.out !== undefined) print(`\nThe setup with it is written to ${options.out}.`);
  }
}

/** Adds the job `change`. */
export function addChange(job: MakeJob): void {
  withSongsShown(job('change', 'what a control added, taken away or changed gives and takes'))
    .option(
      '--with <control>',
      'a control to add, or to put in the place of the one at its station: LKV:5-1,10-1, with a half-stop RKR:2-1/-2; may be given again',
      collect,
    )
    .option('--without <ids>', 'controls to take away, such as C,LKV')
    .option('--open <string and pitch>', 'a string tuned otherwise: 9:C#3', collect)
    .option(
      '--out <file>',
      'write the setup as it would be, named by its change, to check, rig and print it',
    )
    .option('--learn <id>', 'what an existing control makes possible, in the order to learn it')
    .option(
      '--repertoire <file>',
      'chord types and how much each is used; everyday ones by default',
    )
    .option('--frets <range>', 'frets to count, such as 0-12; the whole neck where left out')
    .option('--sizes <range>', 'how many strings at once, such as 3-4 (2 to 6)')
    .option('--fret <fret>', 'where the bar lies in the readable lists', wholeNumber, 0)
    .option(
      '--limit <number>',
      'how many to list of each kind, 20 where left out; 0 lists all; with --learn the long lists too',
      wholeNumber,
    )
    .action((options: ChangeOptions) => change(options));
}
