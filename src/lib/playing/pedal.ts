/**
 * The volume pedal under a player's foot. Strings are struck with the pedal half way down, where its
 * potentiometer lets a tenth of the voltage through (the audio taper of the trade: −20 dB at half of its
 * way), and it opens as they fade, so that what rings stays as loud as it was struck, until it is all the
 * way down. What is struck softly to swell is brought up besides. Before a stroke the foot comes back. Pure: seconds
 * from the start.
 */
import { SOONER } from '$lib/strings/sustain';
import { fallenDb } from './fading';
import type { ScheduledNote } from './schedule';

/** Decibels from where the pedal rests when a string is struck to where it is open. */
export const PEDAL_RANGE_DB = 20;
/** What the resting pedal lets through; the open one lets through 1. */
export const PEDAL_RESTS = 10 ** (-PEDAL_RANGE_DB / 20);

/** Seconds between two looks at the fade. */
const EVERY = 0.25;
/** Seconds in which the foot comes back before a stroke. */
const FOOT = 0.06;

/** The pedal on its way, as evenly as the ear counts: in equal steps of decibels. */
export interface PedalMove {
  /** Seconds from the start. */
  readonly at: number;
  readonly over: number;
  /** 0 … 1: the share of the voltage that it lets through. */
  readonly to: number;
}

/** Its time since the stroke as a share of that in which it falls by 60 dB. */
function shareAt({ at, midi, falls = Infinity, glides = [] }: ScheduledNote, time: number): number {
  let [share, since, pitch] = [0, at, midi];
  const lasts = (): number => falls * 2 ** ((-SOONER * (pitch - midi)) / 12);
  for (const { at: begins, over, to } of glides) {
    const moved = begins + over / 2;
    if (moved >= time) break;
    share += (moved - since) / lasts();
    [since, pitch] = [moved, to];
  }
  return share + (time - since) / lasts();
}

/** Decibels by which strings together have faded since each was struck. */
function fadedDb(ringing: readonly ScheduledNote[], time: number): number {
  let struck = 0;
  let left = 0;
  for (const note of ringing) {
    const power = (note.level ?? 1) ** 2;
    struck += power;
    left += power * 10 ** (-fallenDb(shareAt(note, time)) / 10);
  }
  return -10 * Math.log10(left / struck);
}

/** Decibels by which what was struck softly has been brought up; as much as the one struck last allows. */
function swollenDb(ringing: readonly ScheduledNote[], time: number): number {
  return Math.min(
    ...ringing.map(({ at, level = 1, swells }) =>
      swells === undefined ? 0 : -20 * Math.log10(level) * Math.min(1, (time - at) / swells),
    ),
  );
}

/** By how many decibels the pedal is opened, where strings ring; the foot stays where none do. */
const openedDb = (ringing: readonly ScheduledNote[], time: number): number | undefined =>
  ringing.length === 0
    ? undefined
    : Math.max(0, Math.min(PEDAL_RANGE_DB, fadedDb(ringing, time) + swollenDb(ringing, time)));

const letsThrough = (opened: number): number => PEDAL_RESTS * 10 ** (opened / 20);

/** Every time at which a string is struck or damped, and times between in which it fades. */
function looks(notes: readonly ScheduledNote[]): number[] {
  const events = [...new Set(notes.flatMap(({ at, duration }) => [at, at + duration]))];
  events.sort((a, b) => a - b);
  return events.flatMap((event, index) => {
    const next = events[index + 1] ?? event;
    const count = Math.max(1, Math.ceil((next - event) / EVERY));
    return Array.from({ length: count }, (_, step) => event + ((next - event) * step) / count);
  });
}

/** How the foot follows notes, in order of time; it begins at rest. */
export function pedalFollowing(notes: readonly ScheduledNote[]): PedalMove[] {
  const waiting = [...notes].sort((a, b) => a.at - b.at);
  const moves: PedalMove[] = [];
  let ringing: ScheduledNote[] = [];
  let [next, last, opened] = [0, 0, 0];
  const go = (from: number, until: number, to: number): void => {
    if (until > from && (to !== opened || moves.length > 0))
      moves.push({ at: from, over: until - from, to: letsThrough(to) });
    opened = to;
  };
  for (const time of looks(notes)) {
    const before = openedDb(ringing, time) ?? opened;
    ringing = ringing.filter(({ at, duration }) => at + duration > time);
    for (let note = waiting[next]; note !== undefined && note.at <= time; note = waiting[++next])
      ringing.push(note);
    const after = openedDb(ringing, time) ?? before;
    if (Math.abs(after - before) < 0.01) go(last, time, after);
    else {
      const sets = Math.max(last, time - FOOT);
      go(last, sets, before);
      go(sets, time, after);
    }
    last = time;
  }
  return moves;
}
