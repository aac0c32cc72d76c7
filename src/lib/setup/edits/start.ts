/** Setups to begin with. */
import { ok, refuse, type Result } from '$lib/result';
import {
  chromaOf,
  chromaOfName,
  nameText,
  parseNoteName,
  parsePitch,
  pitchNamed,
  pitchText,
  type Midi,
  type Pitch,
} from '$lib/theory/pitch';
import { nameInKey, readKey, type Key } from '$lib/theory/spelling';
import type { Neck, Setup, SetupString } from '../setup';
import { BOUNDS, DEFAULTS } from '../bounds';
import { plainName } from '$lib/theory/toneNames';
import { knownTunings, withOctaves, type OpenNote } from '../openOctaves';
import { edited, type Edited } from './edited';
import { nextOpen } from './nextString';

/** A tuning and nothing else: no pedal, no lever. */
export const emptySetup = (necks: readonly Neck[], like?: Setup): Setup => ({
  name: `${necks.map(({ name }) => name).join(' and ')}, no controls yet`,
  frets: like?.frets ?? DEFAULTS.frets,
  scaleLengthMm: like?.scaleLengthMm ?? DEFAULTS.scaleLengthMm,
  referenceHz: like?.referenceHz ?? DEFAULTS.referenceHz,
  reach: DEFAULTS.reach,
  necks,
  controls: [],
});

const A_PITCH_OR_KEY =
  'write a key such as A or Em, or notes from string 1 on, such as E4 C4 A3 G3 or E C A G';

/** The top of tunings in a key: C6 of eight strings begins there. */
const TOP: Midi = 67;
/** … and of those with six strings or fewer: C6 and A6 of six begin with E4. */
const TOP_OF_FEW: Midi = 64;

/**
 * A neck in a key: its tonic chord with the sixth in major, with the seventh in minor, from the highest
 * of those notes that is not above G4 downwards; E4 where there are six strings or fewer. In C and A
 * these are the sixth tunings of lap steels (common practice of the trade, from memory).
 */
function neckIn(key: Key, count: number): Neck {
  const tonic = chromaOfName(key.tonic);
  const chord = key.mode === 'major' ? [0, 4, 7, 9] : [0, 3, 7, 10];
  const chromas = chord.map((semitones) => chromaOf(tonic + semitones));
  const strings: SetupString[] = [];
  for (let midi = count > 6 ? TOP : TOP_OF_FEW; strings.length < count; midi--)
    if (chromas.includes(chromaOf(midi)))
      strings.push({ open: pitchNamed(nameInKey(chromaOf(midi), key), midi) });
  return { name: nameText(key.tonic) + (key.mode === 'major' ? '6' : 'm7'), strings };
}

/** Notes that are written without spaces, `F#D#G#E`, one by one. */
const apart = (word: string): readonly string[] =>
  /^(?:[A-G](?:##?|bb?|♯|♭)?\d?){2,}$/u.test(word)
    ? (word.match(/[A-G](?:##?|bb?|♯|♭)?\d?/gu) ?? [])
    : [word];

/**
 * Notes from string 1 on; those without an octave lie where known tunings have them (so that a string that
 * returns upwards does), else below the string before, as near as they can.
 */
export function openNotesOf(words: readonly string[]): Result<Pitch[], string> {
  const notes: OpenNote[] = [];
  for (const word of words.flatMap(apart)) {
    const name = parseNoteName(word);
    const pitch = name === undefined ? parsePitch(word) : undefined;
    if (name === undefined && pitch === undefined)
      return refuse(`“${word}” is no key and no note; ${A_PITCH_OR_KEY}.`);
    if (name !== undefined) notes.push({ name, octave: undefined, gauge: undefined });
    else if (pitch !== undefined)
      notes.push({ name: pitch, octave: pitch.octave, gauge: undefined });
  }
  return ok(withOctaves(notes).pitches);
}

/**
 * A string's note that is played, as it is typed behind those before it: called as in a known tuning that has these
 * notes so far, else by its plainest name.
 */
export function playedNote(before: readonly string[], midi: Midi): string {
  const so = openNotesOf(before);
  const chromas = [...(so.ok ? so.value.map((each) => chromaOf(each.midi)) : []), chromaOf(midi)];
  const like = knownTunings().find(({ pitches }) =>
    chromas.every((chroma, index) => chromaOf(pitches[index]?.midi ?? NaN) === chroma),
  );
  const name = like?.pitches[chromas.length - 1] ?? plainName(chromaOf(midi));
  return pitchText(pitchNamed(name, midi));
}

/** The neck of some notes, called as the tuning that they are, if they are one; a number of strings beyond them goes on as `nextOpen` says. */
function neckOf(pitches: readonly Pitch[], count: number): Neck {
  const like = knownTunings().find(
    (known) =>
      // a bare letter says less than the notes do
      /\d/u.test(known.name) &&
      known.pitches.length === pitches.length &&
      known.pitches.every(({ midi }, index) => midi === pitches[index]?.midi),
  );
  let neck: Neck = {
    name:
      like?.name ??
      pitches
        .map((pitch) => nameText(pitch))
        .join(' ')
        .slice(0, 40),
    strings: pitches.map((open) => ({ open })),
  };
  while (neck.strings.length < count)
    neck = {
      ...neck,
      strings: [...neck.strings, { open: nextOpen(neck, neck.strings.length + 1) }],
    };
  return neck;
}

/**
 * An empty setup of one neck from what a player writes: `A`, `Em` (a key), or notes such as `E4 C4 A3`
 * or `E C A`, string 1 first. `count` is the number of strings; where it is left out, that of the notes,
 * and eight for a key. A sentence says what cannot be.
 */
export function begun(text: string, count?: number): Edited {
  const [least, most] = BOUNDS.strings;
  if (count !== undefined && !(Number.isInteger(count) && count >= least && count <= most))
    return refuse(`A neck has ${least} to ${most} strings.`);
  const words = text.split(/[\s,;]+/).filter((word) => word !== '');
  if (words.length === 0) return refuse(`Of what key, or which notes? You can ${A_PITCH_OR_KEY}.`);
  const key = readKey(text);
  if (key.ok) return edited(emptySetup([neckIn(key.value, count ?? 8)]));
  const pitches = openNotesOf(words);
  if (!pitches.ok) return pitches;
  if (pitches.value.length > (count ?? most))
    return refuse(
      `${pitches.value.length} notes are more than ${count === undefined ? `the ${most} strings that a neck can have` : `${count} strings`}.`,
    );
  return edited(emptySetup([neckOf(pitches.value, count ?? pitches.value.length)]));
}
