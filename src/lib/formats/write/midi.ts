/**
 * What is played as a Standard MIDI File 1.1: one track and one channel a string, so that each can bend
 * by itself, with pitch bend for controls and the bar. It says that it is MPE (`playing/mpe.ts`), and plays
 * alike where that is not known. Written by `midi-file`.
 */
import type { TempoMark } from '$lib/arrange/piece';
import type { BandNote } from '$lib/playing/band/band';
import { clockOf, type Metre } from '$lib/arrange/progression';
import {
  MASTER,
  MOST_STRINGS,
  bendOf,
  bendRange,
  channelsOf,
  membersFor,
  velocityOf,
  zone,
  type ControlChange,
} from '$lib/playing/mpe';
import { PERCUSSION, bandTracks, isPitched, isStruck } from './midiBand';
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
/**
 * Semitones that the bend wheel reaches each way: the bar may slide over two octaves, and many receivers
 * bend no farther.
 */
const BEND_RANGE = 24;
/** Seconds between the steps of a bend: below what is heard as steps. */
const BEND_STEP = 0.008;
/** "Acoustic Guitar (steel)" of General MIDI 1, counted from 0. */
export const PROGRAM = 25;

/** Names are stored byte by byte; as UTF-8 they survive. */
const bytesOf = (text: string): string =>
  String.fromCharCode(...new TextEncoder().encode(text.slice(0, 2000)));

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

/** Smooth at both ends, as a pedal is pressed and the bar is led. */
const eased = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

function noteEvents(note: MidiNote, channel: number): Timed[] {
  const { midi, at, duration, glides = [], level = 1 } = note;
  const key = Math.round(midi);
  const bend = (when: number, pitch: number): Timed => ({
    at: when,
    deltaTime: 0,
    type: 'pitchBend',
    channel,
    value: bendOf(pitch - key, BEND_RANGE),
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

/** Changes of controllers at the beginning. */
const changed = (channel: number, changes: readonly ControlChange[]): Timed[] =>
  changes.map(([controllerType, value]) => ({
    at: 0,
    deltaTime: 0,
    type: 'controller' as const,
    channel,
    controllerType,
    value,
  }));

const NOTE_AT = { at: 0, deltaTime: 0, meta: true, type: 'text' } as const;
/** Said of a file that is none of MPE, and in it. */
const NO_ZONE =
  'It is General MIDI with a channel a string, and not MPE: strings and band need all channels, which leaves none for a zone.';

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

/** A zone of MPE: the channel that speaks for it, and how many there are behind that (before it, of the upper one). */
type Zone = readonly [master: number, members: number];

/** Who has which channel; without a zone the file is one of General MIDI alone. */
interface Channels {
  readonly channels: ReadonlyMap<number, number>;
  /** Of bass and chords; where one is left, they share it. */
  readonly bandChannels: readonly [number, number];
  readonly zones: readonly Zone[];
}

/** The lower zone as far as it leaves the drums alone. */
const LOWER = PERCUSSION - 1;
/** The channel that speaks for the upper zone. */
const UPPER_MASTER = 15;

/**
 * More strings than the lower zone has below the drums, and a band: the others are in the upper zone, which grows
 * downward from the last channel (MPE 1.0, 2.1), and the band plays between the two. Nothing where that has no room.
 */
function inTwoZones(strings: readonly number[], pitched: boolean): Channels | undefined {
  const upper = strings.length - LOWER;
  const between = [11, 10].filter((channel) => channel < UPPER_MASTER - upper);
  const [chords = PERCUSSION, bass = chords] = between;
  if (upper <= 0 || (pitched && between.length === 0) || PERCUSSION >= UPPER_MASTER - upper)
    return undefined;
  const channelOf = (at: number): number =>
    at < LOWER ? MASTER + 1 + at : UPPER_MASTER - 1 - (at - LOWER);
  return {
    channels: new Map(strings.map((string, at) => [string, channelOf(at)])),
    bandChannels: [bass, chords],
    zones: [
      [MASTER, LOWER],
      [UPPER_MASTER, upper],
    ],
  };
}

/** Which channels strings, bass and chords have. */
function channelsFor(strings: readonly number[], band: readonly BandNote[]): Channels {
  const pitched = isPitched(band);
  if (strings.length + (pitched ? 1 : 0) > MOST_STRINGS)
    throw new Error(`${String(strings.length)} strings have no channels in MIDI`);
  const two = band.length > 0 ? inTwoZones(strings, pitched) : undefined;
  if (two !== undefined) return two;
  const channels = new Map(
    [...channelsOf(strings)].map(([string, channel]) => [
      string,
      // the fifteenth would have that of the percussion
      band.length > 0 && channel === PERCUSSION ? MASTER : channel,
    ]),
  );
  const taken = new Set(channels.values());
  const [last = MASTER, before = last] = [15, 14, MASTER].filter((each) => !taken.has(each));
  const bandChannels = [before, last] as const;
  const members = membersFor(taken);
  const foreign = [...(pitched ? bandChannels : []), ...(isStruck(band) ? [PERCUSSION] : [])];
  const apart = !taken.has(MASTER) && foreign.every((each) => each > members);
  return { channels, bandChannels, zones: apart ? [[MASTER, members]] : [] };
}

const stringsOf = (notes: readonly MidiNote[]): number[] =>
  [...new Set(notes.map(({ string }) => string))].sort((a, b) => a - b);

/** What is to be said of such a file where it is written; nothing where it is one of MPE. */
export function toldOfMidi({
  notes,
  band = [],
}: Pick<MidiPiece, 'notes' | 'band'>): string | undefined {
  const strings = stringsOf(notes);
  return strings.length === 0 || channelsFor(strings, band).zones.length > 0 ? undefined : NO_ZONE;
}

/** The bytes of a file. At most 15 strings can have a channel of their own. */
export function writeMidiFile(piece: MidiPiece): Uint8Array<ArrayBuffer> {
  const { title, tempo, tempos = [], metre, metres = [], notes, markers } = piece;
  const seconds = clockOf({ tempo, tempos, metre: QUARTER, bars: [] });
  const ticks = ticksOf(piece);
  const strings = stringsOf(notes);
  const { band = [] } = piece;
  const { channels, bandChannels, zones } = channelsFor(strings, band);
  const conductor: Timed[] = [
    { at: 0, deltaTime: 0, meta: true, type: 'trackName', text: bytesOf(title) },
    ...zones.flatMap(([master, members]) => changed(master, zone(members))),
    ...(zones.length > 0 || strings.length === 0 ? [] : [{ ...NOTE_AT, text: bytesOf(NO_ZONE) }]),
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
  const tracks = [...channels].map(([string, channel]) => {
    const own = notes.filter((note) => note.string === string).sort((a, b) => a.at - b.at);
    return track(
      [
        { at: 0, deltaTime: 0, meta: true, type: 'trackName', text: bytesOf(`String ${string}`) },
        { at: 0, deltaTime: 0, type: 'programChange', channel, programNumber: PROGRAM },
        ...changed(channel, bendRange(BEND_RANGE)),
        ...own.flatMap((note) => noteEvents(note, channel)),
      ],
      ticks,
    );
  });
  const played = bandTracks(band, bandChannels).map((events) => track(events, ticks));
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
