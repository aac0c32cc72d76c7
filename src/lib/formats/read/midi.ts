/** The tune in a Standard MIDI File 1.1, read by `midi-file`. */
import { parseMidi, type MidiEvent } from 'midi-file';
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/scoreFaults';
import { ok, refuse, type Result } from '$lib/result';
import { plainName } from '$lib/theory/toneNames';
import { chromaOf, pitchNamed } from '$lib/theory/pitch';
import {
  quartersOf,
  stepsOf,
  withSlots,
  DEFAULT_METRE,
  type Metre,
  type NotTaken,
  type Progression,
} from '$lib/arrange/progression';
import { TICKS } from '../ticks';
import { leftOut } from './beyond';
import { TUNE_NAME, headOf, noteAt, type ScoreNote } from './score';

export interface MidiTune {
  /** In ticks of a score from the beginning of the piece. */
  readonly notes: readonly ScoreNote[];
  readonly metre?: Metre;
  /** Quarter notes a minute. */
  readonly tempo?: number;
  /** The name of the track that was taken, where it has one. */
  readonly track?: string;
  /** The names of the others that have notes. */
  readonly others: readonly string[];
  /** The metre is another one later. */
  readonly changesMetre: boolean;
}

const MAGIC = [0x4d, 0x54, 0x68, 0x64] as const; // MThd

/** Whether the chunks that the file announces lie within it; the parser would read on beyond its end. */
function isWhole(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 0;
  let tracks = 0;
  while (at + 8 <= bytes.length) {
    if (view.getUint32(at) === 0x4d54726b) tracks++;
    at += 8 + view.getUint32(at + 4);
  }
  return at === bytes.length && tracks > 0;
}

function notesOf(track: readonly MidiEvent[], ticksPerQuarter: number): ScoreNote[] {
  const notes: ScoreNote[] = [];
  const sounding = new Map<number, number>();
  let now = 0;
  for (const event of track) {
    now += event.deltaTime;
    if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
    // channel 10 is the drums
    if (event.channel === 9 || event.noteNumber > 127) continue;
    const at = (now * TICKS) / ticksPerQuarter;
    const began = sounding.get(event.noteNumber);
    if (began !== undefined) {
      const pitch = pitchNamed(plainName(chromaOf(event.noteNumber)), event.noteNumber);
      notes.push({ at: began, length: at - began, pitch });
      sounding.delete(event.noteNumber);
    }
    if (event.type === 'noteOn' && event.velocity > 0) sounding.set(event.noteNumber, at);
  }
  return notes;
}

/** Half the notes of a track are higher. */
function middleOf(notes: readonly ScoreNote[]): number {
  const pitches = notes.map(({ pitch }) => pitch.midi).sort((a, b) => a - b);
  return pitches[Math.floor(pitches.length / 2)] ?? 0;
}

/** Reads the tune: the track named as one, else the one that lies highest. */
export function readMidiTune(bytes: Uint8Array): Result<MidiTune, DocumentFault> {
  if (!MAGIC.every((byte, at) => bytes[at] === byte)) return refuse(fault('midi.header', ''));
  if (bytes.length < 14 || !isWhole(bytes)) return refuse(fault('midi.damaged', ''));
  let data;
  try {
    data = parseMidi(bytes);
  } catch {
    return refuse(fault('midi.damaged', ''));
  }
  const perQuarter = data.header.ticksPerBeat;
  if (perQuarter === undefined || perQuarter <= 0) return refuse(fault('midi.filmFrames', ''));
  const tracks = data.tracks.map((track) => {
    const named = track.find((event) => event.type === 'trackName');
    return {
      name: named?.type === 'trackName' ? named.text : '',
      notes: notesOf(track, perQuarter),
    };
  });
  const sounding = tracks.filter(({ notes }) => notes.length > 0);
  const [highest] = [...sounding].sort((a, b) => middleOf(b.notes) - middleOf(a.notes));
  const taken = sounding.find(({ name }) => TUNE_NAME.test(name)) ?? highest;
  if (taken === undefined) return refuse(fault('midi.noNotes', ''));
  let metre: Metre | undefined;
  let tempo: number | undefined;
  let changesMetre = false;
  for (const event of data.tracks.flat()) {
    if (event.type === 'timeSignature') {
      const now = { beats: event.numerator, unit: event.denominator };
      metre ??= now;
      changesMetre ||= now.beats !== metre.beats || now.unit !== metre.unit;
    }
    if (event.type === 'setTempo')
      tempo ??= Math.round(6_000_000_000 / event.microsecondsPerBeat) / 100;
  }
  // a metre that no piece has is none
  ({ metre } = headOf({ metre }));
  return ok({
    notes: taken.notes,
    others: sounding.flatMap((track) => (track === taken ? [] : [track.name])),
    changesMetre,
    ...(metre === undefined ? {} : { metre }),
    ...(tempo === undefined ? {} : { tempo }),
    ...(taken.name === '' ? {} : { track: taken.name }),
  });
}

/** What a tune has that the progression under it does not: another metre, and other tracks. */
export function besideTune({ metre }: Progression, tune: MidiTune): NotTaken[] {
  const text = ({ beats, unit }: Metre): string => `${String(beats)}/${String(unit)}`;
  const differs =
    metre !== undefined && tune.metre !== undefined && quartersOf(metre) !== quartersOf(tune.metre);
  return [
    ...(differs
      ? [
          {
            where: '',
            words: `the tune is in ${text(tune.metre)} and the chords are in ${text(metre)}, so its measures do not fall on theirs`,
          },
        ]
      : []),
    ...(tune.changesMetre
      ? [{ where: '', words: 'the tune changes its metre, which the chords do not' }]
      : []),
    ...leftOut('track', tune.others),
  ];
}

/** Players come in a little early or late: a note counts where it begins within this much of the chord. */
const LOOSE = TICKS / 8;

/** A progression with the note of a tune on top of each chord that it sounds with. */
export function withTune(progression: Progression, tune: MidiTune): Progression {
  const metre = progression.metre ?? tune.metre ?? DEFAULT_METRE;
  const bar = quartersOf(metre) * TICKS;
  const steps = stepsOf(progression);
  return withSlots({ ...progression, metre }, ({ melody: _before, ...slot }, place) => {
    const start = (steps[place]?.start ?? 0) * bar;
    const melody = noteAt(tune.notes, start + LOOSE) ?? noteAt(tune.notes, start);
    return melody === undefined ? slot : { ...slot, melody };
  });
}
