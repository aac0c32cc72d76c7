/** `gripwright hear --wav F`: what of a grip is heard in a recording, and how far each string is off. */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { hzOf, parsePitch, pitchText, type Pitch } from '$lib/theory/pitch';
import { noteTextInLetters } from '$lib/theory/typedNames';
import { spelled } from '$lib/theory/toneNames';
import { spelledBy } from '$lib/setup/spelledBy';
import { soundOf } from '$lib/answers/sound';
import { heardHold, type HeardHold } from '$lib/answers/heardHold';
import { hearGrip, type HeardForeign, type HeardString } from '$lib/hearing/hear';
import { strokeAt } from '$lib/hearing/stroke';
import { MOST_WAV_BYTES, readWav, type WavSound } from '$lib/formats/read/wav';
import { bytesOf, sizeOf } from './files';
import type { MakeJob } from './job';
import { loadSetup } from './loadSetup';
import { holdAsked, type HoldOptions } from './name';
import { unitsOption } from './options';
import { lengthText, type Units } from '$lib/strings/units';
import { Refusal, print, printJson, table } from './out';

interface HearOptions extends HoldOptions {
  /** What lengths are printed in. */
  readonly units: Units;
  readonly wav: string;
  readonly expect?: string;
  readonly setup: string;
  readonly json?: boolean;
}

/** Adds the job `hear`. */
export function addHear(job: MakeJob): void {
  job('hear', 'hear which strings of a grip sound in a recording, and how far each is off')
    .requiredOption('--wav <file>', 'the recording, from one stroke on')
    .option(
      '--expect <notes>',
      'the notes that should sound, such as "G4,C5,E5", instead of what is engaged',
    )
    .option('--neck <number>', 'the neck, counted from 1', '1')
    .option('--fret <fret>', 'where the bar lies', '0')
    .option('--controls <ids>', 'controls engaged, such as A,RKR:half', '')
    .option('--slant <frets>', 'frets by which the far end of the bar is ahead: -2 to 2', '0')
    .option('--strings <strings>', 'strings picked, such as 3,4,5; all where left out')
    .addOption(unitsOption())
    .action((options: HearOptions) => {
      hear(options);
    });
}

/** One note that is expected. */
interface Wanted {
  readonly string?: number;
  readonly pitch: Pitch;
  readonly hz: number;
}

const MOST_NOTES = 14;

function notesWanted(text: string): Wanted[] {
  const words = text.split(/[\s,]+/u).filter(Boolean);
  const wanted = words.map((word): Wanted => {
    const pitch = parsePitch(noteTextInLetters(word));
    if (pitch === undefined || pitch.midi < 21 || pitch.midi > 108)
      throw new Refusal(
        `--expect: found “${word}”; allowed are notes with octaves from A0 to C8, such as G4,C5,E5.`,
        2,
      );
    return { pitch, hz: hzOf(pitch.midi) };
  });
  if (wanted.length === 0 || wanted.length > MOST_NOTES)
    throw new Refusal(
      `--expect: found ${wanted.length} notes; allowed are 1 to ${MOST_NOTES}, such as G4,C5,E5.`,
      2,
    );
  return wanted;
}

function soundIn(path: string): WavSound {
  if (sizeOf(path) > MOST_WAV_BYTES)
    throw new Refusal(`${path}: it is larger than ${MOST_WAV_BYTES / 1e6} megabytes.`, 1);
  const read = readWav(bytesOf(path));
  if (!read.ok)
    throw new Refusal(`${path}: found ${read.error.found}; allowed is ${read.error.allowed}.`, 1);
  const { samples, sampleRate } = read.value;
  const struck = samples.subarray(strokeAt(samples, sampleRate));
  if (struck.length < LEAST_S * sampleRate)
    throw new Refusal(
      `${path}: found ${(struck.length / sampleRate).toFixed(2)} seconds from the stroke on; allowed are ${LEAST_S} or more.`,
      1,
    );
  return { sampleRate, samples: struck };
}

/** Shorter than this says nothing of pitch, in seconds. */
const LEAST_S = 0.1;

const twoPlaces = (value: number | undefined): number | null =>
  value === undefined ? null : Math.round(value * 100) / 100;

function hear(options: HearOptions): void {
  const sound = soundIn(options.wav);
  if (options.expect !== undefined) {
    const wanted = notesWanted(options.expect);
    const heard = hearGrip(
      sound.samples,
      sound.sampleRate,
      wanted.map(({ hz }) => hz),
    );
    tell(wanted, heard, options);
    return;
  }
  const setup = loadSetup(options.setup);
  const hold = holdAsked(setup, options);
  const heard = heardHold(setup, hold, sound);
  const { names: chords } = soundOf(setup, hold);
  const otherwise = spelledBy(setup.necks[hold.neck - 1], undefined);
  const wanted = heard.wanted.map(({ string, midi, hz }): Wanted => ({
    string,
    hz,
    pitch: spelled(chords[0]?.tones ?? [], midi, otherwise),
  }));
  tell(wanted, heard, options);
}

/** What is told: of a hold the bar too. */
interface Told {
  readonly strings: readonly HeardString[];
  readonly extra: readonly HeardForeign[];
  readonly bar?: HeardHold['bar'];
}

const noteOf = (midi: number): string =>
  pitchText(spelled([], midi, spelledBy(undefined, undefined)));

const centsShown = (cents: number): string =>
  prettySymbol(`${cents < 0 ? '−' : '+'}${Math.abs(cents).toFixed(1)}`);

function tell(
  wanted: readonly Wanted[],
  { strings, extra, bar }: Told,
  { json, units }: HearOptions,
): void {
  if (json) {
    printJson({
      strings: strings.map(({ sounds, certain, cents, levelDb }, index) => {
        const { string, pitch } = wanted[index] as Wanted;
        return {
          ...(string === undefined ? {} : { string }),
          note: pitchText(pitch),
          midi: pitch.midi,
          sounds,
          certain,
          cents: twoPlaces(cents),
          levelDb: twoPlaces(levelDb),
        };
      }),
      extra: extra.map(({ midi, cents }) => ({
        note: noteOf(midi),
        midi,
        cents: twoPlaces(cents),
      })),
      bar: bar === undefined ? null : { mm: twoPlaces(bar.mm), turnMm: twoPlaces(bar.turnMm) },
    });
    return;
  }
  const withStrings = wanted.some(({ string }) => string !== undefined);
  print(
    table(
      [...(withStrings ? ['string'] : []), 'note', 'sounds', 'cents', 'level'],
      strings.map(({ sounds, certain, cents, levelDb }, index) => {
        const { string, pitch } = wanted[index] as Wanted;
        const said = sounds ? 'yes' : 'no';
        return [
          ...(withStrings ? [String(string)] : []),
          prettyPitch(pitch),
          certain ? said : `${said}, not certain`,
          cents === undefined ? '–' : centsShown(cents),
          levelDb === undefined ? '–' : `${levelDb.toFixed(0)} dB`,
        ];
      }),
    ),
  );
  for (const { midi, cents } of extra)
    print(
      `Not expected: ${prettyPitch(spelled([], midi, spelledBy(undefined, undefined)))}, ${centsShown(cents)} cents.`,
    );
  if (bar !== undefined) print(barSentence(bar, units));
}

/** Where the bar lies, in words. */
function barSentence(
  { mm, turnMm }: { readonly mm: number; readonly turnMm: number },
  units: Units,
): string {
  const far = (length: number): string => lengthText(Math.abs(length), units);
  const where =
    Math.abs(mm) < 0.05 ? 'on its fret' : `${far(mm)} ${mm > 0 ? 'sharp' : 'flat'} of its fret`;
  const turn =
    Math.abs(turnMm) < 0.05
      ? 'straight'
      : `its far end ${far(turnMm)} ${turnMm > 0 ? 'ahead' : 'behind'}`;
  return `The bar lies ${where}, ${turn}.`;
}
