/** `gripwright tuning`: what each string and pull is set to, and what becomes of the chords. */
import { InvalidArgumentError, Option } from 'commander';
import type { Chord } from '$lib/theory/chord';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { textInLetters } from '$lib/theory/typedText';
import type { Setup } from '$lib/setup/setup';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { SEVENTHS, type Seventh } from '$lib/tuning/justRatios';
import { hasSaved } from '$lib/tuning/targets';
import { tune, type Plan } from '$lib/tuning/tune';
import { METHODS, OLDER_METHODS, methodNamed, type Method } from '$lib/tuning/methods';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { decimal } from './options';
import { Refusal, print, printJson } from './out';
import { tuningJson, type TuningMethods } from './tuningJson';
import { printTuning } from './tuningText';

interface TuningOptions extends TuningMethods {
  readonly setup: string;
  readonly chords?: string;
  readonly neck?: number;
  readonly anchor?: number;
  readonly strength: number;
  readonly seventh: Seventh;
  readonly reference?: number;
  readonly json?: boolean;
}

/** As they are typed: methods under any name they have had. */
interface AskedOptions extends Omit<TuningOptions, 'method' | 'against'> {
  readonly method: string;
  readonly against?: string;
}

function counted(text: string): number {
  if (!/^\d{1,2}$/.test(text)) throw new InvalidArgumentError('A whole number is wanted.');
  return Number(text);
}

function strengthOf(text: string): number {
  if (text === 'inf') return Infinity;
  const strength = decimal(text);
  if (strength === undefined)
    throw new InvalidArgumentError('A number from 0 up is wanted, or inf.');
  return strength;
}

function referenceOf(text: string): number {
  const hz = decimal(text) ?? 0;
  if (hz < 300 || hz > 600)
    throw new InvalidArgumentError('A pitch of A4 from 300 to 600 Hz is wanted.');
  return hz;
}

/** Adds the job `tuning`. */
export function addTuning(job: MakeJob): void {
  job('tuning', 'tuning targets for every string and pull')
    .addOption(
      new Option(
        '--method <how>',
        'equal, just, fitted to the chords (players call this sweetening), or what the setup itself says (saved)',
      )
        .choices([...METHODS, ...OLDER_METHODS])
        .default('fitted'),
    )
    .addOption(
      new Option('--against <how>', 'another method to compare with').choices([
        ...METHODS,
        ...OLDER_METHODS,
      ]),
    )
    .option(
      '--chords <symbols>',
      'the chords to tune for, such as "C Am7 G7"; just takes them in this order',
    )
    .option('--neck <number>', 'one neck only, counted from 1', counted)
    .option('--anchor <string>', 'the reference string, which stays at equal temperament', counted)
    .option(
      '--strength <number>',
      'pull of a fitted tuning toward equal temperament; inf is equal',
      strengthOf,
      0,
    )
    .addOption(
      new Option('--seventh <ratio>', 'the just seventh of dominant chords')
        .choices(SEVENTHS)
        .default('16/9'),
    )
    .option('--reference <hertz>', 'the pitch of A4; the setup’s own where left out', referenceOf)
    .action(({ method, against, ...options }: AskedOptions) => {
      tuning({
        ...options,
        method: methodNamed(method) ?? 'fitted',
        ...(against === undefined ? {} : { against: methodNamed(against) ?? 'equal' }),
      });
    });
}

function chordsOf(text: string): Chord[] {
  const symbols = text.split(/[\s|]+/).filter((symbol) => symbol !== '');
  return symbols.map((symbol) => {
    const read = readChord(symbol);
    if (!read.ok) throw new Refusal(chordFaultText(read.error), 1);
    if (read.value === 'no chord')
      throw new Refusal('--chords: “N.C.” is no chord to tune for.', 1);
    return read.value;
  });
}

function necksOf(setup: Setup, { neck, anchor }: TuningOptions): number[] {
  const count = setup.necks.length;
  if (neck !== undefined && (neck < 1 || neck > count))
    throw new Refusal(
      `--neck: found ${neck}; this setup has ${count === 1 ? 'only 1' : `1 to ${count}`}.`,
      1,
    );
  const necks = neck === undefined ? setup.necks.map((_, index) => index + 1) : [neck];
  for (const each of necks) {
    const strings = setup.necks[each - 1]?.strings.length ?? 0;
    if (anchor !== undefined && (anchor < 1 || anchor > strings))
      throw new Refusal(`--anchor: found ${anchor}; neck ${each} has strings 1 to ${strings}.`, 1);
  }
  return necks;
}

function tuning(options: TuningOptions): void {
  const loaded = loadSetup(options.setup);
  const setup: Setup =
    options.reference === undefined ? loaded : { ...loaded, referenceHz: options.reference };
  const chords =
    options.chords === undefined ? undefined : chordsOf(textInLetters('chords', options.chords));
  const necks = necksOf(setup, options);
  const plan = (method: Method): Plan => ({
    method,
    strength: options.strength,
    seventh: options.seventh,
    ...(chords === undefined ? {} : { chords }),
    ...(options.anchor === undefined ? {} : { anchor: options.anchor }),
  });
  const made = necks.map((neck) => tune(setup, neck, plan(options.method)));
  const { against } = options;
  const others =
    against === undefined ? undefined : necks.map((neck) => tune(setup, neck, plan(against)));
  if (options.json) printJson(tuningJson(setup, options, made, others));
  else {
    print(`“${setup.name}”, ${METHOD_WORDS[options.method]}, A4 = ${setup.referenceHz} Hz`);
    if (options.method === 'saved' && !hasSaved(setup))
      print('The setup says no targets of its own, so all are at equal temperament.');
    made.forEach((each, index) => {
      printTuning(setup, each, others?.[index], options);
    });
    print(`\n⚠ ${STRING_CAUTIONS[0]}`);
  }
}

const METHOD_WORDS: Readonly<Record<Method, string>> = {
  equal: 'equal temperament',
  just: 'just on chosen chords',
  fitted: 'fitted to chords',
  saved: 'as the setup says',
};
