/**
 * What hands and feet do, at times: the language in which the page, the audio thread and the offline
 * renderer speak of music. Plain data in seconds and hertz.
 */
import { hzOf } from '$lib/theory/pitch';
import { PEDAL_RESTS, pedalFollowing } from '$lib/playing/pedal';
import type { Mover, ScheduledNote } from '$lib/playing/schedule';
import { usualFall } from '$lib/strings/sustain';

export type Action =
  /** What the strings are played through from now on. */
  | { readonly does: 'rig'; readonly at: number; readonly rig: Rig }
  | {
      readonly does: 'strike';
      readonly at: number;
      /** From 1; 0 is the soft bass under the strings. */
      readonly string: number;
      readonly hz: number;
      /** 0 … 1. */
      readonly level: number;
      /** Touched at the middle by the palm: sounds an octave above `hz`. */
      readonly harmonic: boolean;
      /** Seconds in which it falls by 60 dB at `hz`; as is usual for the pitch where left out. */
      readonly falls?: number;
    }
  | {
      readonly does: 'glide';
      readonly at: number;
      readonly string: number;
      readonly hz: number;
      readonly over: number;
      readonly by: Mover;
    }
  | { readonly does: 'damp'; readonly at: number; readonly string: number }
  /** The volume pedal, 0 … 1; where it goes evenly, in equal steps of decibels. */
  | {
      readonly does: 'pedal';
      readonly at: number;
      readonly to: number;
      readonly over: number;
      readonly evenly?: boolean;
    }
  /** The bar rolled to and fro: cents to either side, times a second. */
  | {
      readonly does: 'vibrato';
      readonly at: number;
      readonly cents: number;
      readonly hz: number;
      readonly over: number;
    };

/** What a string may sound as; the usual one first. */
export const TIMBRES = ['string', 'plain'] as const;
/** A struck string, or a plain tone for hearing intervals. */
export type Timbre = (typeof TIMBRES)[number];

/** What stands between the strings and the ear. */
export interface Rig {
  readonly timbre: Timbre;
  /** The colour of an amplifier that is driven a little. */
  readonly amplifier: boolean;
  /** 0 … 1: how much of the room is heard. */
  readonly room: number;
}

/** What is played through where nothing else is asked. */
export const RIG: Rig = { timbre: 'string', amplifier: false, room: 0.35 };

/** How a schedule is played beyond its notes. */
export interface Expression {
  readonly referenceHz: number;
  readonly rig?: Rig;
  /** The strings are struck with the volume pedal closed, which then opens. */
  readonly swell?: boolean;
  /** The volume pedal stays where it rests; else it opens as strings fade. */
  readonly pedalStays?: boolean;
  /** The bar is rolled while they ring. */
  readonly vibrato?: boolean;
}

/** Seconds in which the volume pedal opens. */
const SWELL = 0.7;
/** Cents to either side and times a second; seconds until the hand has begun, and in which it does. */
const VIBRATO = { cents: 14, hz: 5.2, after: 0.5, over: 0.6 } as const;

/** Seconds by which the pedal is closed before the strings are struck. */
const CLOSED = 0.012;
/** Strokes at most so far apart (s) belong to one grip. */
const ONE_GRIP = 0.3;

/** Seconds after the start at which grips begin. */
function gripsOf(notes: readonly ScheduledNote[]): number[] {
  const strokes = notes.map(({ at }) => at).sort((a, b) => a - b);
  return strokes.filter((at, index) => at - (strokes[index - 1] ?? -Infinity) > ONE_GRIP);
}

/** A volume pedal's way in seconds of the actions, which begin `from` seconds before the notes. */
function pedalActions(
  notes: readonly ScheduledNote[],
  from: number,
  { swell = false, pedalStays = false, rig = RIG }: Expression,
): Action[] {
  const follows = !pedalStays && rig.timbre === 'string';
  const fading = follows ? pedalFollowing(withUsualFalls(notes)) : [];
  const moves = fading.map(({ at, to, over }) => ({
    does: 'pedal' as const,
    at: from + at,
    to,
    over,
    evenly: true,
  }));
  if (!swell) return [{ does: 'pedal', at: 0, to: PEDAL_RESTS, over: 0 }, ...moves];
  const begin = gripsOf(notes);
  const swelling = (at: number): boolean => begin.some((grip) => at >= grip && at < grip + SWELL);
  const openAt = (at: number): number => fading.findLast((move) => move.at < at)?.to ?? PEDAL_RESTS;
  return [
    { does: 'pedal', at: 0, to: 0, over: 0 },
    ...begin.flatMap((at): Action[] => [
      ...(at > 0 ? [{ does: 'pedal' as const, at, to: 0, over: 0 }] : []),
      { does: 'pedal', at: from + at, to: openAt(at + SWELL), over: SWELL },
    ]),
    ...moves.filter(({ at }) => !swelling(at - from)),
  ];
}

/** A string of which nothing is told falls as is usual for its pitch. */
const withUsualFalls = (notes: readonly ScheduledNote[]): ScheduledNote[] =>
  notes.map((note) => ({ falls: usualFall(hzOf(note.midi)), ...note }));

/** Of actions at the same time, what ends something comes before what begins it. */
const ORDER: Readonly<Record<Action['does'], number>> = {
  damp: 0,
  rig: 0,
  pedal: 1,
  vibrato: 1,
  strike: 2,
  glide: 3,
};

/** The actions that play notes, in order of time. */
export function actionsOf(notes: readonly ScheduledNote[], expression: Expression): Action[] {
  const { referenceHz, rig = RIG, swell = false, vibrato = false } = expression;
  const from = swell ? CLOSED : 0;
  const { cents, hz, after, over } = VIBRATO;
  const actions: Action[] = [
    { does: 'rig', at: 0, rig },
    ...pedalActions(notes, from, expression),
    { does: 'vibrato', at: 0, cents: 0, hz, over: 0 },
  ];
  if (vibrato) actions.push({ does: 'vibrato', at: from + after, cents, hz, over });
  for (const note of notes) {
    const { string, duration, level = 1, harmonic = false, falls } = note;
    const at = from + note.at;
    actions.push({ does: 'damp', at: at + duration, string });
    actions.push({
      does: 'strike',
      at,
      string,
      hz: hzOf(note.midi, referenceHz),
      level,
      harmonic,
      ...(falls === undefined ? {} : { falls }),
    });
    for (const { at: when, over: takes, to, by = 'pull' } of note.glides ?? [])
      actions.push({
        does: 'glide',
        at: from + when,
        string,
        hz: hzOf(to, referenceHz),
        over: takes,
        by,
      });
  }
  return actions.sort((a, b) => a.at - b.at || ORDER[a.does] - ORDER[b.does]);
}

/** A string, and the pitch that it is to have. */
export interface Target {
  /** From 1; 0 is the soft bass. */
  readonly string: number;
  readonly hz: number;
}

/**
 * What is still to come once hands or feet have moved strings at a time: those that wait for their stroke will
 * sound so, and a string that is not struck again rings on for at least `hold` seconds, so that the move is heard.
 *
 * @param time seconds, as the actions have them
 */
export function actionsBent(
  actions: readonly Action[],
  to: readonly Target[],
  time: number,
  hold: number,
): Action[] {
  const moved = new Map(to.map(({ string, hz }) => [string, hz]));
  const waiting = new Set(actions.flatMap((each) => (each.does === 'strike' ? [each.string] : [])));
  return actions
    .flatMap((action) => {
      const hz = 'string' in action ? moved.get(action.string) : undefined;
      if (hz === undefined || action.does === 'glide') return hz === undefined ? [action] : [];
      if (action.does === 'strike') return [{ ...action, hz }];
      const held = action.does === 'damp' && !waiting.has(action.string);
      return [held ? { ...action, at: Math.max(action.at, time + hold) } : action];
    })
    .sort((a, b) => a.at - b.at);
}
