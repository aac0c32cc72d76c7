/**
 * What is played as a Standard MIDI File 1.1: one track and one channel a string, so that each can bend
 * by itself, with pitch bend for controls and the bar. Written by `midi-file`.
 */
import type { TempoMark } from '$lib/arrange/piece';
import type { BandNote } from '$lib/playing/band/band';
import { bandTracks, isPitched } from './midiBand';
import { clockOf, type Metre } from '$lib/arrange/progression';
import { writeMidi, type MidiData, type MidiEvent } from 'midi-file';

/** A ringing string on its way to another pitch. */
export interface MidiGlide {
  /** Seconds after the beginning. */
  readonly at: number;
  readonly over: number;
  /** MIDI number, which need not be whole. */
  readonly to: number;
}

export interface MidiNote {
  /** From 1. */
  readonly string: number;
  readonly midi: number;
  readonly at: number;
  readonly duration: number;
  readonly glides?: readonly MidiGlide[];
  /** How hard it is struck, 0 … 1; 1 where left out. */
  readonly level?: number;
}

/** A word at a moment of the piece, in seconds. */
export interface Marker {
  readonly at: number;
  readonly text: string;
}

export interface MidiPiece {
  readonly title: string;
  /** Quarter notes a minute. */
  readonly tempo: number;
  /** Later tempos, by their places in quarter notes. */
  readonly tempos?: readonly TempoMark[];
  readonly metre: Metre;
  /** Later metres, by their places in quarter notes. */
  readonly metres?: readonly { readonly at: number; readonly metre: Metre }[];
  readonly notes: readonly MidiNote[];
  /** A rhythm section, in seconds: its bass and chords have a channel each, drums and click that of percussion. */
  readonly band?: readonly BandNote[];
  /** Chord symbols and sections, in seconds. */
  readonly markers: readonly Marker[];
}

const PER_QUARTER = 480;
/** Semitones that the bend wheel reaches each way: the bar may slide over two octaves. */
const BEND_RANGE = 24;
/** Seconds between the steps of a bend: below what is heard as steps. */
const BEND_STEP = 0.008;
/** "Acoustic Guitar (steel)" of General MIDI 1, counted from 0. */
export const PROGRAM = 25;
const VELOCITY = 88;

/** Names are stored byte by byte; as UTF-8 they survive. */
const bytesOf = (text: string): string =>
  String.fromCharCode(...new TextEncoder().encode(text.slice(0, 2000)));

/** Channels from 0; the tenth is for drums. */
const channelOf = (index: number): number => (index < 9 ? index : index + 1);

type Timed = MidiEvent & { at: number };

/** From when to when, as the deltas that the file stores. */
function track(events: readonly Timed[], ticks: (at: number) => number): MidiEvent[] {
  let before = 0;
  const ordered = events.map((event, order) => ({ event, order, tick: ticks(event.at) }));
  ordered.sort((a, b) => a.tick - b.tick || a.order - b.order);
  const written = ordered.map(({ event: { at: _at, ...event }, tick }) => {
    const deltaTime = tick - before;
    before = tick;
    return { ...event, deltaTime };
  });
  return [...written, { deltaTime: 0, meta: true, type: 'endOfTrack' }];
}

/** −8192 … 8191; the whole range is 2 × BEND_RANGE semitones. */
const bendOf = (semitones: number): number =>
  Math.max(-8192, Math.min(8191, Math.round((semitones / BEND_RANGE) * 8192)));

/** Smooth at both ends, as a pedal is pressed and the bar is led. */
const eased = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

/** General MIDI makes nothing of 0 but the end of a note. Loudness goes with the square of the velocity. */
const velocityOf = (level: number): number =>
  Math.max(1, Math.min(127, Math.round(VELOCITY * Math.sqrt(level))));

function noteEvents(note: MidiNote, channel: number): Timed[] {
  const { midi, at, duration, glides = [], level = 1 } = note;
  const key = Math.round(midi);
  const bend = (when: number, pitch: number): Timed => ({
    at: when,
    deltaTime: 0,
    type: 'pitchBend',
    channel,
    value: bendOf(pitch - key),
  });
  const events: Timed[] = [
    bend(at, midi),
    { at, deltaTime: 0, type: 'noteOn', channel, noteNumber: key, velocity: velocityOf(level) },
  ];
  let from = midi;
  for (const { at: begins, over, to } of glides) {
    const steps = Math.max(1, Math.ceil(over / BEND_STEP));
    for (let step = 1; step <= steps; step++)
      events.push(bend(begins + (over * step) / steps, from + (to - from) * eased(step / steps)));
    from = to;
  }
  events.push({
    at: at + duration,
    deltaTime: 0,
    type: 'noteOff',
    channel,
    noteNumber: key,
    velocity: 0,
  });
  return events;
}

/** The bend range is set by registered parameter 0 (MIDI 1.0): select it, set it, let go of it. */
const bendRange = (channel: number): Timed[] =>
  (
    [
      [101, 0],
      [100, 0],
      [6, BEND_RANGE],
      [38, 0],
      [101, 127],
      [100, 127],
    ] as const
  ).map(([controllerType, value]) => ({
    at: 0,
    deltaTime: 0,
    type: 'controller' as const,
    channel,
    controllerType,
    value,
  }));

/** A bar of one quarter note, so that bars are quarter notes. */
const QUARTER = { beats: 1, unit: 4 };

/** Ticks at a time in seconds: the way back of the piece's clock. */
function ticksOf({ tempo, tempos = [] }: MidiPiece): (seconds: number) => number {
  const seconds = clockOf({ tempo, tempos, metre: QUARTER, bars: [] });
  const marks = [{ at: 0, tempo }, ...tempos].map((mark) => ({
    ...mark,
    begins: seconds(mark.at),
  }));
  return (time) => {
    const mark = marks.findLast(({ begins }) => begins <= time + 1e-9) ?? {
      at: 0,
      tempo,
      begins: 0,
    };
    return Math.round((mark.at + ((time - mark.begins) * mark.tempo) / 60) * PER_QUARTER);
  };
}

/** The bytes of a file. At most 15 strings can have a channel of their own. */
export function writeMidiFile(piece: MidiPiece): Uint8Array<ArrayBuffer> {
  const { title, tempo, tempos = [], metre, metres = [], notes, markers } = piece;
  const seconds = clockOf({ tempo, tempos, metre: QUARTER, bars: [] });
  const ticks = ticksOf(piece);
  const strings = [...new Set(notes.map(({ string }) => string))].sort((a, b) => a - b);
  const { band = [] } = piece;
  if (strings.length + (isPitched(band) ? 1 : 0) > 15)
    throw new Error(`${strings.length} strings have no channels in MIDI`);
  const conductor: Timed[] = [
    { at: 0, deltaTime: 0, meta: true, type: 'trackName', text: bytesOf(title) },
    ...[{ at: 0, tempo }, ...tempos].map((mark): Timed => ({
      at: seconds(mark.at),
      deltaTime: 0,
      meta: true,
      type: 'setTempo',
      microsecondsPerBeat: Math.round(60_000_000 / mark.tempo),
    })),
    ...[{ at: 0, metre }, ...metres].map(({ at, metre: { beats, unit } }): Timed => ({
      at: seconds(at),
      deltaTime: 0,
      meta: true,
      type: 'timeSignature',
      numerator: beats,
      denominator: unit,
      metronome: 24,
      thirtyseconds: 8,
    })),
    ...markers.map(({ at, text }): Timed => ({
      at,
      deltaTime: 0,
      meta: true,
      type: 'marker',
      text: bytesOf(text),
    })),
  ];
  const tracks = strings.map((string, index) => {
    const channel = channelOf(index);
    const own = notes.filter((note) => note.string === string).sort((a, b) => a.at - b.at);
    return track(
      [
        { at: 0, deltaTime: 0, meta: true, type: 'trackName', text: bytesOf(`String ${string}`) },
        { at: 0, deltaTime: 0, type: 'programChange', channel, programNumber: PROGRAM },
        ...bendRange(channel),
        ...own.flatMap((note) => noteEvents(note, channel)),
      ],
      ticks,
    );
  });
  const played = bandTracks(band, [
    // beside fourteen strings they share the last one
    channelOf(strings.length < 14 ? 13 : 14),
    channelOf(14),
  ]).map((events) => track(events, ticks));
  const data: MidiData = {
    header: {
      format: 1,
      numTracks: tracks.length + played.length + 1,
      ticksPerBeat: PER_QUARTER,
    },
    tracks: [track(conductor, ticks), ...tracks, ...played],
  };
  return new Uint8Array(writeMidi(data));
}
