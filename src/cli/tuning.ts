/** `gripwright tuning`: what each string and pull is set to, and what becomes of the chords. */
import { InvalidArgumentError, Option } from 'commander';
import type { Chord } from '$lib/theory/chord';
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { textInLetters } from '$lib/theory/typedText';
import { engagedText } from '$lib/setup/engagedText';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { STRING_CAUTIONS } from '$lib/strings/cautions';
import { centsText } from '$lib/tuning/centsText';
import { SEVENTHS, type Seventh } from '$lib/tuning/justRatios';
import { givenText, splitNote, splitText } from '$lib/tuning/stopText';
import { hasSaved } from '$lib/tuning/targets';
import { tune, type Plan, type Tuning } from '$lib/tuning/tune';
import { METHODS, OLDER_METHODS, methodNamed, type Method } from '$lib/tuning/methods';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { decimal } from './options';
import { Refusal, print, printJson, table } from './out';

interface TuningOptions {
  readonly setup: string;
  readonly method: Method;
  readonly against?: Method;
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

/** In JSON a method is called as ever. */
const jsonMethod = (method: Method | undefined): string | undefined =>
  method === 'fitted' ? 'sweet' : method;

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
  if (options.json) printJson(jsonOf(setup, options, made, others));
  else {
    print(`“${setup.name}”, ${METHOD_WORDS[options.method]}, A4 = ${setup.referenceHz} Hz`);
    if (options.method === 'saved' && !hasSaved(setup))
      print('The setup says no targets of its own, so all are at equal temperament.');
    made.forEach((each, index) => {
      printNeck(setup, each, others?.[index], options);
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

const jsonOf = (
  setup: Setup,
  { method, against }: TuningOptions,
  made: readonly Tuning[],
  others: readonly Tuning[] | undefined,
) => ({
  setup: setup.name,
  method: jsonMethod(method),
  referenceHz: setup.referenceHz,
  anchors: made.map(({ neck, anchor }) => ({ neck, string: anchor })),
  residualBefore: made.map(({ residualBefore }) => residualBefore),
  residualAfter: made.map(({ residualAfter }) => residualAfter),
  residualApart: made.map(({ residualApart }) => residualApart ?? null),
  targets: made.flatMap(({ targets }, index) =>
    targets.map(({ given, ...target }, stop) => {
      const other = others?.[index]?.targets[stop];
      return {
        ...target,
        decided: given === undefined,
        ...(given === undefined ? {} : { given: givenText(given) }),
        ...(other === undefined
          ? {}
          : { against: { method: jsonMethod(against), cents: other.cents, hz: other.hz } }),
      };
    }),
  ),
  splits: made.flatMap(({ splits }) => splits),
  chords: made.flatMap(({ uses }) =>
    uses.map(({ use, before, after, impure }) => ({
      symbol: use.symbol,
      voicing: { neck: use.neck, fret: use.fret, controls: use.engaged, strings: use.strings },
      weight: use.weight,
      residualBefore: before.residual,
      residualAfter: after.residual,
      beatsBeforeHz: before.beatsHz,
      beatsHz: after.beatsHz,
      ...(method === 'just' ? { impure } : {}),
    })),
  ),
  unplayable: made.flatMap(({ neck, unplayable }) =>
    unplayable.map((symbol) => ({ neck, symbol })),
  ),
  cautions: STRING_CAUTIONS,
});

/** What keeping octaves together costs; nothing where it costs nothing. */
function apartText({ residualAfter, residualApart }: Tuning): string {
  return residualApart === undefined || residualAfter - residualApart < 0.005
    ? ''
    : ` Were octaves of open strings and of one control let come apart, ${residualApart.toFixed(2)} instead of ${residualAfter.toFixed(2)}.`;
}

/** Chords that are shown; the rest is in the JSON. */
const SHOWN_USES = 16;

function printNeck(
  setup: Setup,
  made: Tuning,
  other: Tuning | undefined,
  { method, against }: TuningOptions,
): void {
  const neck = setup.necks[made.neck - 1];
  const note = (midi: number): string => prettyPitch(tuningPitch(neck, midi));
  const anchor = `string ${made.anchor} stays at equal temperament`;
  print(
    `\n${setup.necks.length > 1 ? `${neck?.name ?? ''}: ` : ''}${method === 'equal' || method === 'saved' ? '' : anchor}`.trimEnd(),
  );
  const columns = against === undefined ? [] : [`${against}: cents`, 'difference'];
  const undecided = made.targets.some(({ given }) => given !== undefined);
  const unstopped = made.splits.filter(({ ownStop }) => !ownStop);
  print('');
  print(
    table(
      ['control', 'string', 'note', 'cents', 'hertz', ...columns, ...(undecided ? [''] : [])],
      [
        ...made.targets.map((target, index) => {
          const { control, state, string, midi, cents, hz, raisedBy, given } = target;
          const beside = other?.targets[index]?.cents;
          return [
            control === null
              ? 'open'
              : `${raisedBy === undefined ? '' : `${raisedBy}+`}${control}${state === 'half' ? '½' : ''}`,
            String(string),
            note(midi),
            centsText(cents),
            hz.toFixed(2),
            ...(beside === undefined ? [] : [centsText(beside), centsText(cents - beside)]),
            ...(given === undefined ? [] : [`undecided: ${givenText(given)}`]),
          ];
        }),
        ...unstopped.map(({ engaged, string, midi, cents, hz }) => [
          engagedText(engaged),
          String(string),
          note(midi),
          centsText(cents),
          hz.toFixed(2),
        ]),
      ],
      against === undefined ? [1, 3, 4] : [1, 3, 4, 5, 6],
    ),
  );
  if (undecided)
    print('\nUndecided: no chord says where these lie. Set them otherwise as you like.');
  if (unstopped.length > 0) print(`\n${splitNote(setup)}`);
  for (const split of unstopped) print(splitText(setup, split));
  if (made.uses.length === 0) return;
  print(
    `\nChords lie ${made.residualBefore.toFixed(1)} cents from just intonation in equal temperament, ${made.residualAfter.toFixed(1)} so (root mean square).${apartText(made)}\n`,
  );
  print(
    table(
      [
        'chord',
        'fret',
        'controls',
        'strings',
        'off before',
        'off now',
        'beats before',
        'beats now',
        '',
      ],
      made.uses
        .slice(0, SHOWN_USES)
        .map(({ use, before, after, impure }) => [
          prettySymbol(use.symbol),
          String(use.fret),
          engagedText(use.engaged) || '–',
          use.strings.join('-'),
          before.residual.toFixed(1),
          after.residual.toFixed(1),
          `${before.beatsHz.toFixed(1)}/s`,
          `${after.beatsHz.toFixed(1)}/s`,
          impure ? 'contradicts a chord before it' : '',
        ]),
      [1, 4, 5, 6, 7],
    ),
  );
  if (made.uses.length > SHOWN_USES)
    print(`\n${SHOWN_USES} of ${made.uses.length} voicings shown; --json has them all.`);
  if (made.unplayable.length > 0)
    print(
      `\nThis neck cannot play ${made.unplayable.map((each) => prettySymbol(each)).join(', ')}.`,
    );
}
