/** `gripwright arrange`: the best arrangements of a piece. */
import type { Setup } from '$lib/setup/setup';
import { withPasses } from '$lib/arrange/passes';
import { arrange, type Arrangement } from '$lib/arrange/arrange';
import { alternatives } from '$lib/arrange/alternatives';
import { onePullFor, type OnePull } from '$lib/arrange/onePull';
import { STRIKES } from '$lib/arrange/strikeNames';
import { TEXTURES } from '$lib/arrange/texture';
import { readWishes } from '$lib/answers/readWishes';
import { WISH_PARTS, type WishTexts } from '$lib/answers/wishParts';
import type { Wishes } from '$lib/arrange/wishes';
import { FEEL_NAMES, feelNamed, type FeelName } from '$lib/playing/band/feels';
import { PAPERS } from '$lib/formats/drawing';
import { CHORD_SIGNS } from '$lib/theory/chordSigns';
import { endingsFor } from '$lib/formats/progressionFiles';
import type { Units } from '$lib/strings/units';
import { workingRanges } from '$lib/strings/strains';
import { chordsStruck, refusedOut, staffAsked, writeChords } from './arrangementFile';
import { runTune } from './arrangeTune';
import { arrangementJson } from './arrangementJson';
import { printAlternatives, printTroubles, printWays } from './arrangementTable';
import { pieceOf } from '$lib/arrange/pieceOf';
import { runSubstitutions } from './arrangeSubstitutions';
import { wholeNumber, type MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { optionsRefused, paperOf, unitsOption } from './options';
import { addressOf, addressOption, pieceCode } from './paperOut';
import { Refusal, print, printJson } from './out';
import { placed, readPiece, type PieceOptions } from './pieceRead';
import { struckJson } from './tuneJson';

/** Most arrangements that are laid out at once. */
const MOST_WAYS = 20;

interface ArrangeOptions extends Omit<WishTexts, 'top' | 'measures' | 'signs'>, PieceOptions {
  readonly measures?: readonly string[];
  readonly setup: string;
  readonly melodyOnTop?: string;
  readonly arrangements: number;
  readonly fold?: boolean;
  readonly alternatives?: boolean;
  readonly onePull?: boolean;
  readonly substitutions?: boolean;
  readonly staff?: boolean;
  readonly signs?: string;
  readonly out?: string;
  readonly band?: string;
  readonly paper: string;
  readonly address: string;
  readonly units: Units;
  readonly json?: boolean;
}

/** Adds the job `arrange`. */
export function addArrange(job: MakeJob): void {
  job('arrange', 'find the best arrangements of a piece')
    .option('--chords <text>', 'its chords, measure by measure, such as "C | Am7 | Dm7 G7 | C"')
    .option('--file <file>', `a file to read it from (${endingsFor('read')})`)
    .option(
      '--melody <notes>',
      'one note for each chord to be on top, such as "E4 - F4 | C5", or a MIDI file with the tune',
    )
    .option('--melody-on-top <how>', 'exact, octave (any octave will do) or off')
    .option('--key <key>', 'the key it is in, such as Eb or F#m; found where left out')
    .option('--to <key>', 'move it to another key first')
    .option('--transpose <semitones>', 'move it by semitones first, such as -3')
    .option('--arrangements <number>', `how many arrangements, 1 to ${MOST_WAYS}`, wholeNumber, 3)
    .option(
      '--texture <what>',
      `what is played, every note of it: ${TEXTURES.join(', ')}; one voicing a chord where left out`,
    )
    .option(
      '--harmony <where>',
      'where a chord-melody has chords: on every note, on beats, or at changes of the chord',
    )
    .option('--measures <texture...>', 'another texture for some measures, such as 5-8=thirds')
    .option(
      '--notes <notes>',
      'single notes of a texture by measure and beat, such as "5:1=tune:4;5:2.5=no-string:3;6:1=hold:8/A,B/3-4-5;7=fret:3"',
    )
    .option(
      '--strike <pattern>',
      `how it is struck, for all or for some: ${STRIKES.join(', ')}, such as "rolled;5-8=chop;Chorus=pad"`,
    )
    .option('--fold', 'count arrangements that differ in grips only as one')
    .option(
      '--alternatives',
      'also alternatives of a character each: low, few bar moves, many pulls …',
    )
    .option('--bass <who>', 'a bass after a slash: clear (unless it makes a cluster), grip or band')
    .option('--match <how>', 'complete, partial or rootless, for every chord')
    .option('--frets <range>', 'where the bar may go, such as 3-8')
    .option('--home <fret>', 'the fret that it starts from')
    .option('--sizes <range>', 'how many strings at once, such as 3-4 (2 to 6)')
    .option('--neck <number>', 'one neck only, counted from 1')
    .option('--prefer <grips>', 'grips to prefer, such as 3-4-5,4-5-6')
    .option('--avoid <grips>', 'grips to avoid')
    .option('--without <ids>', 'controls not to use, such as C,LKV')
    .option('--must <degrees>', 'degrees that must sound where a chord has them, such as 1,5')
    .option('--pocket <frets>', 'how far the bar may go from its lowest fret')
    .option('--end <how>', 'free, or same: the bar ends where it began')
    .option('--passes <how>', 'same: what is repeated is played alike each time; or free')
    .option('--slants <on or off>', 'slanted bar; on where the setup has no pedals')
    .option(
      '--balance <parts>',
      'weighting of feet, picking, bar and voices, such as bar=2,voices=0.5',
    )
    .option(
      '--locks <chords>',
      'single chords, such as "2=fret:8;3=top:E4;4=hold:8/A,B/3-4-5" (hold:3/-/3-4-5 with nothing engaged)',
    )
    .option('--one-pull', 'for a chord that cannot be played: which one pull more would give it')
    .option(
      '--substitutions',
      'instead: chords that may stand for those of the piece, with what each saves or costs',
    )
    .option('--out <file>', `write the best arrangement to a file (${endingsFor('write')})`)
    .option('--staff', 'with --out F.pdf or F.svg: staves above the tablature, note under note')
    .option('--signs <how>', `how chords are written above staves: ${CHORD_SIGNS.join(', ')}`)
    .option(
      '--band <feel>',
      `with --out to MIDI or sound: drums, bass and chords that play along: ${FEEL_NAMES.join(', ')}`,
    )
    .addOption(unitsOption())
    .option('--paper <size>', PAPERS.join(' or '), 'A4')
    .addOption(addressOption())
    .action(async (options: ArrangeOptions) => {
      await run(options);
    });
}

const textsOf = (options: ArrangeOptions): WishTexts =>
  Object.fromEntries(
    WISH_PARTS.map((part) => [
      part,
      part === 'top'
        ? options.melodyOnTop
        : part === 'measures'
          ? options.measures?.join(';')
          : part === 'signs'
            ? undefined
            : options[part],
    ]),
  );

function wishesOf(setup: Setup, options: ArrangeOptions): Wishes {
  const wishes = readWishes(setup, textsOf(options));
  if (wishes.ok) return wishes.value;
  throw optionsRefused(wishes.error, (part) => (part === 'top' ? '--melody-on-top' : `--${part}`));
}

/** Who plays along in a file that is heard. */
function feelFor({ band, out }: ArrangeOptions): FeelName | undefined {
  if (band === undefined) return undefined;
  const feel = feelNamed(band);
  if (feel === undefined)
    throw new Refusal(`--band: found “${band}”; allowed are ${FEEL_NAMES.join(', ')}.`, 2);
  if (out === undefined || !/\.(midi?|wav)$/iu.test(out))
    throw new Refusal(
      `--band: found ${out === undefined ? 'no --out' : `“${out}”`}; allowed with it are files that end in .mid, .midi, .wav.`,
      2,
    );
  return feel;
}

async function run(options: ArrangeOptions): Promise<void> {
  const setup = loadSetup(options.setup);
  if (options.arrangements < 1 || options.arrangements > MOST_WAYS)
    throw new Refusal(
      `--arrangements: found ${options.arrangements}; allowed is 1 to ${MOST_WAYS}.`,
      2,
    );
  const paper = paperOf(options.paper);
  const address = addressOf(options.address);
  const feel = feelFor(options);
  const wishes = wishesOf(setup, options);
  const { textures } = wishes;
  const { out, json = false, arrangements: ways } = options;
  const staff = staffAsked(options.staff, options.signs, out);
  const refused = out === undefined ? undefined : refusedOut(out, textures !== undefined);
  if (refused !== undefined) throw new Refusal(refused, 2);
  const {
    progression,
    piece: written,
    faults,
    notTaken,
  } = placed(await readPiece(options), options);
  if (options.substitutions === true) {
    runSubstitutions(setup, written ?? pieceOf(progression), wishes, json);
    return;
  }
  const code = pieceCode(
    {
      ...{ piece: written ?? pieceOf(progression), wishes: textsOf(options) },
      ...{ named: options.setup, setup },
    },
    address,
  );
  const writing = { out, paper, staff, feel, code };
  if (textures !== undefined) {
    const asked = { setup, progression, piece: written, faults, wishes, textures };
    await runTune({ ...asked, ways, writing, json });
    return;
  }
  const apart = options.fold === true ? 'positions' : 'voicings';
  const asked = withPasses(wishes, progression, written);
  const arrangement = arrange(setup, progression, asked, ways, apart);
  const [best] = arrangement.ways;
  const pulls = options.onePull ? pullsFor(setup, asked, arrangement) : undefined;
  const others =
    options.alternatives === true && best !== undefined
      ? alternatives(setup, progression, asked, best)
      : undefined;
  const chords = { setup, progression, piece: written, wishes };
  const document = () => ({
    ...arrangementJson(setup, progression, { faults, notTaken }, arrangement, pulls, others),
    ...(wishes.strikes === undefined || best === undefined
      ? {}
      : { struck: struckJson(chordsStruck(chords, best.steps).struck) }),
  });
  if (best === undefined) {
    const error = 'There is no chord in it that can be played.';
    if (json) printJson({ error, ...document() });
    else printTroubles(setup, { faults, notTaken }, arrangement, pulls);
    throw new Refusal(error, 1);
  }
  if (!json) {
    printTroubles(setup, { faults, notTaken }, arrangement, pulls);
    printWays(arrangement, options.units);
    if (others !== undefined) printAlternatives(others, options.units);
  }
  const name = await writeChords({ ...chords, way: best }, writing);
  if (!json && out !== undefined && name !== undefined) print(`\n${out}: ${name}.`);
  if (!json && out === undefined && wishes.strikes !== undefined)
    print('\nHow it is struck is heard and read in the files that --out writes.');
  // one document: the answer, or why it could not be written
  if (json) printJson(document());
}

/** By the step's index: pulls that would give a chord; chords that are asked for alike share them. */
function pullsFor(
  setup: Setup,
  wishes: Wishes,
  { unplayable }: Arrangement,
): Map<number, readonly OnePull[]> {
  const ranges = workingRanges(setup);
  const known = new Map<string, readonly OnePull[]>();
  return new Map(
    unplayable.map(({ index, step, chord }) => {
      const key = JSON.stringify([chord.symbol, step.melody, wishes.steps.get(index)]);
      const pulls = known.get(key) ?? onePullFor(setup, wishes, step, index, ranges);
      known.set(key, pulls);
      return [index, pulls];
    }),
  );
}
