/** A rhythm section as tracks of a MIDI file. Programs and percussion are those of General MIDI 1. */
import type { BandNote } from '$lib/playing/band/band';
import type { Drum } from '$lib/playing/band/feels';
import type { MidiEvent } from 'midi-file';

/** An event at a time in seconds. */
type Timed = MidiEvent & { at: number };

/** The channel of percussion, from 0. */
export const PERCUSSION = 9;
/** "Acoustic Bass" and "Acoustic Guitar (nylon)", counted from 0. */
const PROGRAMS = { bass: 32, chords: 24 } as const;
/** Bass Drum 1, Acoustic Snare, Side Stick, Closed Hi Hat, Pedal Hi Hat, Ride Cymbal 1. */
const KEYS: Readonly<Record<Drum, number>> = {
  kick: 36,
  snare: 38,
  'side stick': 37,
  'closed hat': 42,
  'foot hat': 44,
  ride: 51,
};
/** Hi Wood Block for the first of a measure, Low Wood Block for the others. */
const CLICKS = [76, 77] as const;
/** Behind the strings, which have 88. */
const VELOCITY = 64;

/** It needs a channel beside that of percussion. */
export const isPitched = (band: readonly BandNote[]): boolean =>
  band.some(({ part }) => part === 'bass' || part === 'chords');

/** It plays on that of percussion: drums, a click. */
export const isStruck = (band: readonly BandNote[]): boolean =>
  band.some(({ part }) => part !== 'bass' && part !== 'chords');

const keyOf = (note: BandNote): number => {
  if (note.part === 'drums') return KEYS[note.drum];
  if (note.part === 'bass' || note.part === 'chords') return note.midi;
  return CLICKS[note.level === 1 ? 0 : 1];
};

/** A track each for click, drums, bass and chords, as far as they play; not yet in order of time. */
export function bandTracks(
  band: readonly BandNote[],
  [bass, chords]: readonly [number, number],
): Timed[][] {
  const parts = [
    { name: 'Click', own: ['click', 'count'], channel: PERCUSSION, program: undefined },
    { name: 'Drums', own: ['drums'], channel: PERCUSSION, program: undefined },
    { name: 'Bass', own: ['bass'], channel: bass, program: PROGRAMS.bass },
    { name: 'Chords', own: ['chords'], channel: chords, program: PROGRAMS.chords },
  ];
  return parts.flatMap(({ name, own, channel, program }): Timed[][] => {
    const notes = band.filter(({ part }) => own.includes(part));
    if (notes.length === 0) return [];
    const ends = notes.map((note): Timed => ({
      ...{ at: note.at + note.lasts, deltaTime: 0, type: 'noteOff', channel },
      ...{ noteNumber: keyOf(note), velocity: 0 },
    }));
    const begins = notes.map((note): Timed => ({
      ...{ at: note.at, deltaTime: 0, type: 'noteOn', channel, noteNumber: keyOf(note) },
      velocity: Math.max(1, Math.round(VELOCITY * Math.sqrt(note.level))),
    }));
    return [
      [
        { at: 0, deltaTime: 0, meta: true, type: 'trackName', text: name },
        ...(program === undefined
          ? []
          : [
              {
                ...{ at: 0, deltaTime: 0, type: 'programChange' as const },
                ...{ channel, programNumber: program },
              },
            ]),
        // what ends at a moment ends before what begins there
        ...ends,
        ...begins,
      ],
    ];
  });
}
