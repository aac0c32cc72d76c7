/**
 * A way through a progression as it is played in time: which string is struck when, how what rings on
 * glides into the next chord. Pure: seconds from the start, no clock and no sound.
 */
import type { ArrangedStep, ArrangedWay } from '$lib/arrange/arrange';
import { DEFAULT_METRE, clockOf, stepsOf, type Progression } from '$lib/arrange/progression';
import type { Setup } from '$lib/setup/setup';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import {
  BASS,
  BEND_SECONDS,
  slideSeconds,
  type Glide,
  type PickedPitch,
  type ScheduledNote,
} from './schedule';
import { lateSeconds, strokesOf } from './strokes';
import type { Due } from './due';

export { dueAt, type Due } from './due';

export interface Playing {
  readonly setup: Setup;
  readonly progression: Progression;
  /** Those that are played, in order. */
  readonly steps: readonly ArrangedStep[];
  /** What each of them is heard as, string by string. */
  readonly pitchesOf: (step: ArrangedStep) => readonly PickedPitch[];
  /** First and last step to play, as indexes among all steps of the progression. */
  readonly part?: readonly [number, number];
  /** Part of the tempo: 1 as it is written, 0.5 half as fast. */
  readonly speed?: number;
  /** A bar of clicks before it begins. */
  readonly countIn?: boolean;
  /** How often it is played. */
  readonly rounds?: number;
  /** Seconds from one string to the next, low to high. */
  readonly apart?: number;
  /** Seconds that a control takes. */
  readonly bend?: number;
}

export interface Performance {
  readonly notes: readonly ScheduledNote[];
  /** In order of time; rests too. */
  readonly due: readonly Due[];
  /** Seconds until the last string is damped. */
  readonly length: number;
}

/** E7: high and short, unlike any chord. */
export const CLICK = { string: BASS, midi: 100, duration: 0.03 } as const;
/** The first click of the bar is louder; all are softer than what follows by 15 dB or more. */
export const CLICK_LEVELS = [0.4, 0.2] as const;
/** Seconds that the last chord rings after its time. */
const RINGS_AFTER = 1.5;
/** Strings are blocked for so long before they are struck anew. */
const BLOCKED = 0.03;

interface Ringing {
  readonly string: number;
  readonly midi: number;
  readonly falls: number;
  readonly at: number;
  readonly glides: Glide[];
}

/** Everything that is to be played, and when which step is due. */
export function performanceOf(playing: Playing): Performance {
  const { setup, progression, steps, pitchesOf, speed = 1, countIn = false, rounds = 1 } = playing;
  const { apart = 0.045, bend = BEND_SECONDS.usual } = playing;
  const { metre = DEFAULT_METRE } = progression;
  const all = stepsOf(progression);
  const clock = clockOf(progression);
  const [first, last] = playing.part ?? [0, all.length - 1];
  const [begins, ends] = [all[first], all[last]];
  if (begins === undefined || ends === undefined) return { notes: [], due: [], length: 0 };

  const seconds = (from: number, to: number): number => (clock(to) - clock(from)) / speed;
  // as fast as the first bar that is played goes
  const bar = seconds(begins.start, begins.start + 1);
  const notes: ScheduledNote[] = [];
  const lead = countIn ? bar : 0;
  if (countIn)
    for (let beat = 0; beat < metre.beats; beat++)
      notes.push({
        ...CLICK,
        at: (beat * bar) / metre.beats,
        level: CLICK_LEVELS[beat === 0 ? 0 : 1],
      });

  const round = seconds(begins.start, ends.start + ends.length);
  const strokes = strokesOf(setup, progression, steps, speed);
  const due: Due[] = [];
  for (let time = 0; time < rounds; time++) {
    const from = lead + time * round;
    const at = (start: number): number => from + seconds(begins.start, start);
    for (let index = first; index <= last; index++)
      due.push({ index, at: at(all[index]?.start ?? 0) });
    const isLast = time === rounds - 1;
    const played = steps.flatMap((step, index) =>
      step.index >= first && step.index <= last ? [{ step, index }] : [],
    );
    let ringing = new Map<number, Ringing>();
    const damp = (one: Ringing, when: number): void => {
      const { glides, ...note } = one;
      notes.push({
        ...note,
        duration: Math.max(0.05, when - one.at),
        ...(glides.length === 0 ? {} : { glides }),
      });
    };
    played.forEach(({ step, index }, order) => {
      const before = played[order - 1];
      const starts = at(step.step.start);
      const ended = before && at(before.step.step.start + before.step.step.length);
      const ringsOn = order === 0 ? [] : (strokes[index]?.held ?? []);
      const next = new Map<number, Ringing>();
      const pitches = withFalls(setup, step.hold.neck, pitchesOf(step)).sort(
        (a, b) => a.midi - b.midi || b.string - a.string,
      );
      const slid = before !== undefined && before.step.hold.fret !== step.hold.fret;
      let stroke = 0;
      for (const { string, midi, falls } of pitches) {
        const sounds = ringing.get(string);
        if (sounds !== undefined && ringsOn.includes(string)) {
          const now = sounds.glides.at(-1)?.to ?? sounds.midi;
          if (now !== midi) {
            const frets = Math.abs((before?.step.hold.fret ?? 0) - step.hold.fret);
            const over = Math.min(slid ? slideSeconds(frets, bend) : bend, bar / 4);
            const earliest = (sounds.glides.at(-1)?.at ?? sounds.at) + 0.01;
            // hands and feet arrive with the beat
            const leaves = Math.max(earliest, starts - over);
            sounds.glides.push({
              at: leaves,
              over: Math.max(0, starts - leaves),
              to: midi,
              by: slid ? 'bar' : 'pull',
            });
          }
          next.set(string, sounds);
        } else next.set(string, { string, midi, falls, at: starts + apart * stroke++, glides: [] });
      }
      for (const [string, one] of ringing)
        if (next.get(string) !== one) damp(one, Math.min(ended ?? starts, starts) - BLOCKED);
      ringing = next;
      // a string that has become weak is picked once more before it moves
      const late = order === played.length - 1 ? [] : (strokes[index]?.again ?? []);
      const ends = step.step.start + step.step.length;
      const beat = seconds(ends - 1 / metre.beats, ends);
      const lastBeat = at(ends) - lateSeconds(beat);
      stroke = 0;
      for (const { string, midi, falls } of pitches.filter((each) => late.includes(each.string))) {
        const picked = lastBeat + apart * stroke++;
        const weak = ringing.get(string);
        if (weak !== undefined) damp(weak, picked - BLOCKED);
        ringing.set(string, { string, midi, falls, at: picked, glides: [] });
      }
    });
    const tail = played.at(-1)?.step.step;
    const until = tail === undefined ? from + round : at(tail.start + tail.length);
    for (const one of ringing.values()) damp(one, isLast ? until + RINGS_AFTER : until - BLOCKED);
  }
  notes.sort((a, b) => a.at - b.at);
  return { notes, due, length: lead + rounds * round };
}

/** Whose way it is, and through what. */
interface Arranged {
  readonly setup: Setup;
  readonly progression: Progression;
  readonly way: ArrangedWay;
}

/** What is played as it is written: in equal temperament, a chord's strings at once; in seconds. */
export const writtenNotes = ({
  setup,
  progression,
  way: { steps },
}: Arranged): readonly ScheduledNote[] =>
  performanceOf({
    ...{ setup, progression, steps, apart: 0 },
    pitchesOf: ({ hold }) =>
      hold.strings.map((string, at) => ({ string, midi: hold.pitches[at] ?? 0 })),
  }).notes;

/** What is heard of it: as the setup is tuned and the strings of a chord are struck, from its first beat. */
export const heardNotes = ({
  setup,
  progression,
  way: { steps },
}: Arranged): readonly ScheduledNote[] =>
  performanceOf({
    ...{ setup, progression, steps },
    pitchesOf: ({ hold }) => heardPitches(setup, hold),
  }).notes;
