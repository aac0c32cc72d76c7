/**
 * What it takes to go from one voicing to the next: the way of the bar, the strings that the picking
 * hand changes, the controls pressed and let go, the voices' steps. A bar that stays while the controls
 * bend the ringing strings is the cheapest move there is, and the instrument's own.
 */
import { voiceLeading } from '$lib/theory/voiceLeading';
import type { Midi } from '$lib/theory/pitch';
import { fretMm, isPedal, pedalNumber, type Engaged, type Setup } from '$lib/setup/setup';
import type { Bar, Hold } from '$lib/search/hold';
import { PER_UNIT, thousandths } from './effort';
import { EVEN_WAY, MOVE_WEIGHTS, type MoveTerm, type WayBalance } from './weights';

/** A voicing as it is held: in one of its ways. */
export interface SoundingHold extends Hold {
  /** By picked string. */
  readonly pitches: readonly Midi[];
  /** What of the engaged controls is not needed, and stays from before; none where left out. */
  readonly idle?: readonly Engaged[] | undefined;
}

/** What is engaged, and what of it is not needed. */
export type Footing = Pick<SoundingHold, 'engaged' | 'idle'>;

/** What of the engaged controls is needed. */
export const needed = ({ engaged, idle = [] }: Footing): readonly Engaged[] =>
  idle.length === 0 ? engaged : engaged.filter(({ id }) => !idle.some((each) => each.id === id));

/** The way of the bar's end that goes farther; a slanted bar ends at two frets. */
export function barMm({ scaleLengthMm }: Setup, from: Bar, to: Bar): number {
  const at = (fret: number): number => fretMm(fret, scaleLengthMm);
  return Math.max(
    Math.abs(at(from.fret) - at(to.fret)),
    Math.abs(at(from.fret + from.slant) - at(to.fret + to.slant)),
  );
}

/** Seconds in which the bar has as much time as it wants. */
export const UNHURRIED = 1;

/**
 * The terms of leading the bar; none where it stays.
 *
 * @param seconds from the beginning of what is left to the beginning of what is reached
 */
export function barMoveTerms(
  setup: Setup,
  from: Bar,
  to: Bar,
  seconds: number = UNHURRIED,
): MoveTerm[] {
  const terms: MoveTerm[] = [];
  const add = (name: string, value: number): void => void terms.push({ part: 'bar', name, value });
  const mm = barMm(setup, from, to);
  if (from.neck !== to.neck) add('to the other neck', MOVE_WEIGHTS.otherNeck);
  if (mm > 0) {
    add('the bar moves', MOVE_WEIGHTS.barMoves);
    add(`${Math.round(mm)} mm`, MOVE_WEIGHTS.barPerMm * mm);
    const time = Math.max(MOVE_WEIGHTS.leastSeconds, seconds);
    if (time < UNHURRIED)
      add(
        `in ${time.toFixed(1)} s`,
        MOVE_WEIGHTS.hurry * MOVE_WEIGHTS.barPerMm * mm * (UNHURRIED / time - 1),
      );
  }
  const frets = Math.abs(from.fret - to.fret);
  if (frets > MOVE_WEIGHTS.leapBeyond)
    add(`a leap of ${frets} frets`, MOVE_WEIGHTS.leapPerFret * (frets - MOVE_WEIGHTS.leapBeyond));
  return terms;
}

export interface ControlChanges {
  readonly pressed: readonly Engaged[];
  readonly letGo: readonly Engaged[];
  /** From full to half or back, told in the new state. */
  readonly shifted: readonly Engaged[];
}

/** What is pressed, let go and taken to or from half-stops between two combinations. */
export function controlChanges(from: readonly Engaged[], to: readonly Engaged[]): ControlChanges {
  const stateIn = (engaged: readonly Engaged[], id: string): Engaged['state'] | undefined =>
    engaged.find((each) => each.id === id)?.state;
  return {
    pressed: to.filter(({ id }) => stateIn(from, id) === undefined),
    letGo: from.filter(({ id }) => stateIn(to, id) === undefined),
    shifted: to.filter(({ id, state }) => {
      const before = stateIn(from, id);
      return before !== undefined && before !== state;
    }),
  };
}

/** Where the left foot stands, as a pedal number; `undefined` where it holds none. */
export function footAt(setup: Setup, engaged: readonly Engaged[]): number | undefined {
  const numbers = setup.controls.flatMap(({ id, station }) =>
    isPedal(station) && engaged.some((each) => each.id === id) ? [pedalNumber(station)] : [],
  );
  return numbers.length === 0
    ? undefined
    : numbers.reduce((sum, number) => sum + number, 0) / numbers.length;
}

/** The terms of what feet and knees do; a foot that held no pedal has come along in the meantime. */
export function feetMoveTerms(setup: Setup, from: Footing, to: Footing): MoveTerm[] {
  const { pressed, letGo, shifted } = controlChanges(from.engaged, to.engaged);
  const isIdle = ({ idle = [] }: Footing, { id }: Engaged): boolean =>
    idle.some((each) => each.id === id);
  const terms: MoveTerm[] = [
    ...pressed.map(({ id }) => `press ${id}`),
    ...letGo.filter((each) => !isIdle(from, each)).map(({ id }) => `let go of ${id}`),
    ...(to.idle ?? []).filter((each) => !isIdle(from, each)).map(({ id }) => `${id} stays`),
    ...shifted.map(({ id, state }) => `${id} to ${state === 'half' ? 'its half-stop' : 'its end'}`),
  ].map((name) => ({ part: 'feet', name, value: MOVE_WEIGHTS.control }));
  // a foot that only rests on a pedal goes where it is needed
  const [left, right] = [footAt(setup, needed(from)), footAt(setup, needed(to))];
  if (left !== undefined && right !== undefined && left !== right)
    terms.push({
      part: 'feet',
      name: 'the foot is carried along',
      value: MOVE_WEIGHTS.footPerPedal * Math.abs(left - right),
    });
  return terms;
}

/** Strings that are in one grip and not in the other; on another neck all of them. */
const changedStrings = (from: SoundingHold, to: SoundingHold): number =>
  from.neck === to.neck
    ? from.strings.filter((string) => !to.strings.includes(string)).length +
      to.strings.filter((string) => !from.strings.includes(string)).length
    : from.strings.length + to.strings.length;

/** In both grips, under a bar that stays or slides: they ring on, or can. */
const heldStrings = (from: SoundingHold, to: SoundingHold): number[] =>
  from.neck === to.neck ? from.strings.filter((string) => to.strings.includes(string)) : [];

const ascending = (pitches: readonly Midi[]): Midi[] => [...pitches].sort((a, b) => a - b);

export interface Move {
  readonly total: number;
  readonly bar: number;
  readonly picking: number;
  readonly feet: number;
  readonly voices: number;
  /** Millimetres that the bar goes. */
  readonly barMm: number;
  readonly semitones: number;
  readonly changes: ControlChanges;
  /** Strings common to both grips. */
  readonly held: readonly number[];
  readonly terms: readonly MoveTerm[];
}

/** Adds up; the terms stay as the weights give them, the parts under the balance. */
export function moveOf(
  terms: readonly MoveTerm[],
  balance: WayBalance,
  facts: Pick<Move, 'barMm' | 'semitones' | 'changes' | 'held'>,
): Move {
  const part = (name: MoveTerm['part']): number => thousandths(terms, name, balance);
  const [bar, picking, feet, voices] = [part('bar'), part('picking'), part('feet'), part('voices')];
  return {
    total: (bar + picking + feet + voices) / PER_UNIT,
    bar: bar / PER_UNIT,
    picking: picking / PER_UNIT,
    feet: feet / PER_UNIT,
    voices: voices / PER_UNIT,
    ...facts,
    terms,
  };
}

/**
 * The move between two holds. The same back as forth.
 *
 * @param seconds as in `barMoveTerms`
 */
export function moveBetween(
  setup: Setup,
  from: SoundingHold,
  to: SoundingHold,
  balance: WayBalance = EVEN_WAY,
  seconds?: number,
): Move {
  const changed = changedStrings(from, to);
  const semitones = voiceLeading(ascending(from.pitches), ascending(to.pitches));
  const terms = [
    ...barMoveTerms(setup, from, to, seconds),
    ...feetMoveTerms(setup, from, to),
    ...pickingMoveTerms(changed),
    ...voicesTerms(semitones),
  ];
  return moveOf(terms, balance, {
    barMm: barMm(setup, from, to),
    semitones,
    changes: controlChanges(from.engaged, to.engaged),
    held: heldStrings(from, to),
  });
}

/** Bringing the bar from a fret, where it lies before the first chord. */
export function moveFromHome(
  setup: Setup,
  home: number,
  to: SoundingHold,
  balance: WayBalance = EVEN_WAY,
): Move {
  const from: Bar = { neck: to.neck, fret: home, slant: 0 };
  return moveOf(barMoveTerms(setup, from, to), balance, {
    barMm: barMm(setup, from, to),
    semitones: 0,
    changes: controlChanges([], []),
    held: [],
  });
}

/**
 * What the picking hand does where so many strings are taken up or left (a whole number from 0); empty
 * where none is. Priced as `MOVE_WEIGHTS` says.
 */
export const pickingMoveTerms = (changed: number): MoveTerm[] =>
  changed === 0
    ? []
    : [
        {
          part: 'picking',
          name: changed === 1 ? 'one string changes' : `${changed} strings taken up or left`,
          value: MOVE_WEIGHTS.string * changed,
        },
      ];

/**
 * What it costs that the voices move by so many semitones together (0 or more); empty where they stay.
 * Priced as `MOVE_WEIGHTS` says.
 */
export const voicesTerms = (semitones: number): MoveTerm[] =>
  semitones === 0
    ? []
    : [
        {
          part: 'voices',
          name: semitones === 1 ? 'one semitone' : `${semitones} semitones`,
          value: MOVE_WEIGHTS.semitone * semitones,
        },
      ];
