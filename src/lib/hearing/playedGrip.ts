/** How well a grip was played: what a reading says, against what was asked. */
import type { GripReading } from './stream';

/** A grip that was played. */
export interface PlayedGrip {
  /** When it was struck, in seconds from the beginning of the sound. */
  readonly at: number;
  /** No finer reading follows. */
  readonly settled: boolean;
  /** Every string of the grip sounds, and nothing else. */
  readonly right: boolean;
  /** By string of the grip, in order: it sounds. */
  readonly sounds: readonly boolean[];
  /** By string: cents from its target; nothing where it is silent, or cannot be told from another's. */
  readonly cents: readonly (number | undefined)[];
  /** Notes that do not belong, as MIDI numbers. */
  readonly foreign: readonly number[];
  /** Mean of how far the strings are off, in cents; nothing where none can be told. */
  readonly average?: number;
  /** The farthest of them, sharp or flat, in cents. */
  readonly worst?: number;
}

/** What was played by a reading; nothing where it is of no stroke. */
export function playedGrip({ struck, stage, heard }: GripReading): PlayedGrip | undefined {
  if (struck === undefined) return undefined;
  const sounds = heard.strings.map((each) => each.sounds);
  // of nothing at all it is not a grip that was played: a knock, a voice
  if (!sounds.includes(true) && heard.extra.length === 0) return undefined;
  const cents = heard.strings.map((each) => (each.certain ? each.cents : undefined));
  const known = cents.filter((each) => each !== undefined);
  const foreign = heard.extra.map(({ midi }) => midi);
  return {
    at: struck,
    settled: stage === 'last',
    right: foreign.length === 0 && sounds.every(Boolean),
    sounds,
    cents,
    foreign,
    ...(known.length === 0
      ? {}
      : {
          average: known.reduce((sum, each) => sum + Math.abs(each), 0) / known.length,
          worst: known.reduce((most, each) => (Math.abs(each) > Math.abs(most) ? each : most)),
        }),
  };
}

/** The finest reading of every stroke, in the order in which they were struck. */
export function playedGrips(readings: readonly GripReading[]): PlayedGrip[] {
  const byStroke = new Map<number, PlayedGrip>();
  for (const reading of readings) {
    const played = playedGrip(reading);
    if (played !== undefined) byStroke.set(played.at, played);
  }
  return [...byStroke.values()];
}
