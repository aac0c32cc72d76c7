/**
 * How the strings of a note or chord are reached from what sounded before it: picked, pulled, slid to, or
 * ringing on; and what that asks of the hand. It follows from the two holds and from what the tune wants.
 */
import type { Midi } from '$lib/theory/pitch';
import type { Bar } from '$lib/search/hold';
import { REACH_WEIGHTS as WEIGHTS, type MoveTerm } from './weights';

/**
 * *picked*; *pull*: the string rings and a control takes it there; *slide*: it rings and the bar takes it there;
 * *rings*: it goes on as it is.
 */
export type Reached = 'picked' | 'pull' | 'slide' | 'rings';

/** Strings that sound under a bar. */
export interface Sounding extends Bar {
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** By string of `strings`. */
  readonly pitches: readonly Midi[];
}

/** What the tune wants of a note or chord. */
export interface Wanted {
  /** It follows without a rest, so that what sounded rings until it begins. */
  readonly joined: boolean;
  /** The note of the tune that is the highest here; none where it rests. */
  readonly melody: 'begins' | 'lasts' | 'rests';
  /** A note between chords, under which the chord before is to ring on. */
  readonly between: boolean;
  /** Seconds since what was before began. */
  readonly seconds: number;
}

/** The string of the tune: the farthest of those that sound highest; `undefined` where it rests. */
function melodyString({ strings, pitches }: Sounding, { melody }: Wanted): number | undefined {
  if (melody === 'rests') return undefined;
  return strings[pitches.indexOf(Math.max(...pitches))];
}

const isSameBar = (a: Bar, b: Bar): boolean =>
  a.neck === b.neck && a.fret === b.fret && a.slant === b.slant;

/**
 * By string of `to`: how it is reached. A string that was not there, or has stopped, is picked; so is one that one
 * control lets go where another takes it up: two movements do not join into one bend, and what rings would halt or
 * fall back between them (common practice of the trade: it is struck anew).
 *
 * @param handed the strings that are handed so from control to control, string s (from 0) in bit s
 */
export function reachedFrom(
  from: Sounding | undefined,
  to: Sounding,
  wanted: Wanted,
  handed = 0,
): readonly Reached[] {
  const sings = melodyString(to, wanted);
  return to.strings.map((string, at): Reached => {
    const before = from?.pitches[from.strings.indexOf(string)];
    if (from === undefined || before === undefined || !wanted.joined || from.neck !== to.neck)
      return 'picked';
    const semitones = (to.pitches[at] as Midi) - before;
    if (isSameBar(from, to)) {
      if (semitones !== 0) return (handed & (1 << (string - 1))) === 0 ? 'pull' : 'picked';
      // a note that is written again is to be heard again
      return string === sings && wanted.melody === 'begins' ? 'picked' : 'rings';
    }
    const frets = to.fret - from.fret;
    const goesAlong = from.slant === 0 && to.slant === 0 && semitones === frets;
    return goesAlong && Math.abs(frets) <= WEIGHTS.slideMost ? 'slide' : 'picked';
  });
}

/** The terms of reaching one from another, all of them the hand's; `handed` as in `reachedFrom`. */
export function reachTerms(from: Sounding, to: Sounding, wanted: Wanted, handed = 0): MoveTerm[] {
  const terms: MoveTerm[] = [];
  const add = (name: string, value: number): void => {
    if (value > 0) terms.push({ part: 'picking', name, value });
  };
  const reached = reachedFrom(from, to, wanted, handed);
  const were = from.neck === to.neck ? from.strings : [];
  const picked = to.strings.filter((_, at) => reached[at] === 'picked');
  const anew = picked.filter((string) => !were.includes(string));
  if (picked.length > 0) add('a stroke', WEIGHTS.stroke);
  add(
    anew.length === 1 ? 'another string' : `${anew.length} other strings`,
    WEIGHTS.string * anew.length,
  );
  if (reached.includes('slide')) {
    const frets = Math.abs(to.fret - from.fret);
    add('a slide', WEIGHTS.slide);
    add(`over ${frets} frets`, WEIGHTS.slidePerFret * Math.max(0, frets - WEIGHTS.slideBeyond));
  }
  to.strings.forEach((string, at) => {
    if (reached[at] !== 'pull') return;
    const before = from.pitches[from.strings.indexOf(string)] as Midi;
    const semitones = Math.abs((to.pitches[at] as Midi) - before);
    const beyond = Math.max(0, semitones - WEIGHTS.pullBeyond);
    add(`a pull of ${semitones} semitones`, WEIGHTS.pullPerSemitone * beyond);
  });
  if (wanted.seconds < WEIGHTS.quick) {
    const twice = picked.length - anew.length;
    const busy = from.strings.length + anew.length - WEIGHTS.fingers;
    const fingers = twice + Math.max(0, Math.min(anew.length, busy));
    add('the same finger at once', WEIGHTS.sameFinger * fingers);
  }
  if (wanted.between && wanted.joined && !isSameBar(from, to))
    add('the bar leaves the chord', WEIGHTS.leavesChord);
  const sings = melodyString(to, wanted);
  if (wanted.melody === 'lasts' && reached[to.strings.indexOf(sings ?? 0)] !== 'rings')
    add('a lasting note struck again', WEIGHTS.restruck);
  return terms;
}
