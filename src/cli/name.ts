/**
 * `gripwright name`: what sounds with the bar here, these controls engaged, these strings picked; or what
 * some notes are.
 */
import { prettyPitch, prettySymbol } from '$lib/theory/display';
import { textInKey } from '$lib/theory/chordNumber';
import { namedPitches, type NamedPitches } from '$lib/theory/namedPitches';
import { notesOtherwise } from '$lib/theory/typedNames';
import { nameText, pitchText, type Pitch } from '$lib/theory/pitch';
import { readNotes } from '$lib/theory/readNotes';
import type { Key } from '$lib/theory/spelling';
import { spelled } from '$lib/theory/toneNames';
import { engagedText } from '$lib/setup/engagedText';
import { spelledBy } from '$lib/setup/spelledBy';
import { unreachable } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { LIST_OF_WHOLES, readStrings } from '$lib/answers/questionParts';
import { readEngaged } from '$lib/answers/readEngaged';
import { soundOf } from '$lib/answers/sound';
import { fits, type Hold } from '$lib/search/hold';
import { fretText } from '$lib/answers/voicingText';
import { loadSetup } from './loadSetup';
import { keyOf, optionsRefused, typedChord } from './options';
import { Refusal, print, printJson, table } from './out';

/** What is held, as it is written. */
export interface HoldOptions {
  readonly neck?: string;
  readonly fret?: string;
  readonly controls?: string;
  readonly strings?: string;
  readonly slant?: string;
}

/** The options of the job, as they are written. */
export interface NameOptions extends HoldOptions {
  readonly setup: string;
  readonly notes?: string;
  readonly key?: string;
  readonly json?: boolean;
}

/** A whole number within bounds: what is no number is wrong usage, what is outside is impossible. */
function whole(option: string, text: string, least: number, most: number): number {
  const value = Number(text);
  if (!/^\d+$/.test(text))
    throw new Refusal(`${option}: found “${text}”; allowed is a whole number.`, 2);
  if (value < least || value > most)
    throw new Refusal(
      `${option}: found ${text}; this setup has ${least === most ? `only ${most}` : `${least} to ${most}`}.`,
      1,
    );
  return value;
}

function slantOf({ slant = '0' }: HoldOptions): number {
  if (!/^-?[0-2]$/.test(slant))
    throw new Refusal(`--slant: found “${slant}”; allowed are -2, -1, 0, 1, 2.`, 2);
  return Number(slant);
}

/** The hold that options ask for; refused where there is no such one. */
export function holdAsked(setup: Setup, options: HoldOptions): Hold {
  const neck = whole('--neck', options.neck ?? '1', 1, setup.necks.length);
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  const fret = whole('--fret', options.fret ?? '0', 0, setup.frets);
  const engaged = readEngaged(setup, options.controls ?? '');
  if (!engaged.ok) throw optionsRefused([engaged.error]);
  const reason = unreachable(setup, engaged.value);
  if (reason !== undefined)
    throw new Refusal(`${engagedText(engaged.value)} cannot be engaged at once: ${reason}.`, 1);
  const text = options.strings ?? Array.from({ length: count }, (_, i) => i + 1).join(',');
  const strings = readStrings(text, count);
  if (strings === undefined)
    throw new Refusal(
      `--strings: found “${text}”; allowed are strings such as 3,4,5, each once, within 1-${count}.`,
      LIST_OF_WHOLES.test(text) ? 1 : 2,
    );
  const hold = { neck, fret, engaged: engaged.value, strings, slant: slantOf(options) };
  if (!fits(setup, hold))
    throw new Refusal(
      `--slant: a slant of ${hold.slant} at fret ${fret} does not stop strings ${strings.join('-')} on frets 1 to ${setup.frets}.`,
      1,
    );
  return hold;
}

/** What is to be named: its pitches, their names, and the line that says where. */
interface Asked {
  readonly pitches: readonly Pitch[];
  readonly sound: NamedPitches;
  readonly where: string;
}

function heldAsked(options: NameOptions, key: Key | undefined): Asked {
  const setup = loadSetup(options.setup);
  const hold = holdAsked(setup, options);
  const sound = soundOf(setup, hold, key);
  const tones = sound.names[0]?.tones ?? [];
  // what has no name is spelled by the neck
  const otherwise = spelledBy(setup.necks[hold.neck - 1], key);
  const pitches = sound.pitches.map((midi) => spelled(tones, midi, otherwise));
  const where = `fret ${fretText({ fret: hold.fret, slant: hold.slant ?? 0 })}, ${engagedText(hold.engaged) || 'nothing engaged'}`;
  const strings = hold.strings.map((string, index) => {
    const pitch = pitches[index];
    return `${string}: ${pitch ? prettyPitch(pitch) : ''}`;
  });
  return { pitches, sound, where: `${where}; strings ${strings.join('  ')}` };
}

function notesAsked(text: string, key: Key | undefined): Asked {
  const notes = readNotes(typedChord('--notes', text));
  const meant = notes.ok ? undefined : notesOtherwise(text);
  if (meant !== undefined)
    throw new Refusal(
      `--notes: “${text}” ${meant.says}. Did you mean ${prettySymbol(meant.letters)}?`,
      2,
    );
  if (!notes.ok)
    throw new Refusal(
      `--notes: found “${notes.error.found}”; allowed is ${notes.error.allowed}.`,
      2,
    );
  const { pitches } = notes.value;
  const sound = namedPitches(
    pitches.map(({ midi }) => midi),
    key === undefined ? {} : { key },
  );
  const written = pitches.map((pitch) => prettyPitch(pitch));
  return { pitches, sound, where: `notes ${written.join('  ')}` };
}

/** Prints what sounds and its names. */
export function name(options: NameOptions): void {
  const key = options.key === undefined ? undefined : keyOf(options.key);
  const { pitches, sound, where } =
    options.notes === undefined ? heldAsked(options, key) : notesAsked(options.notes, key);
  if (options.json) {
    printJson({
      notes: pitches.map(pitchText),
      pitches: pitches.map(({ midi }) => midi),
      ...(sound.interval === undefined ? {} : { interval: sound.interval }),
      ...(sound.reading === undefined ? {} : { reading: sound.reading }),
      names: sound.names.map(({ symbol, root, bass, kind, degrees, missing, added }) => ({
        symbol,
        root: nameText(root),
        bass: nameText(bass),
        kind,
        degrees,
        missing,
        added,
      })),
    });
    return;
  }
  print(where);
  if (sound.interval !== undefined)
    print(`interval: ${sound.interval}${sound.reading === undefined ? '' : `, ${sound.reading}`}`);
  if (sound.names.length === 0) return;
  print('');
  print(
    table(
      ['name', ...(key === undefined ? [] : ['degree']), 'missing', 'added', 'MusicXML kind'],
      sound.names.map(({ symbol, root, bass, type, missing, added, kind }) => [
        prettySymbol(symbol),
        // what is missing and added has columns of its own
        ...(key === undefined
          ? []
          : [textInKey({ root, bass, type: type.replace(/\(.*$/u, '') }, key)]),
        missing.map((each) => prettySymbol(each)).join(' '),
        added.map((each) => prettySymbol(each)).join(' '),
        kind,
      ]),
    ),
  );
}
