/**
 * A rhythm section that follows a piece: click, drums, bass and chords as notes in time, for the measures as
 * they are played, their metres, changes of tempo, pickups and repeats. Pure: seconds from the beginning at
 * the written tempo, no clock, and no chance but from the seed.
 */
import { clocked, inOrder, secondsTo, type Clocked } from '$lib/arrange/inOrder';
import { SAME_PLACE, type Piece } from '$lib/arrange/piece';
import { quartersOf } from '$lib/arrange/progression';
import { bassLine } from './bassLine';
import { countedBy, laidOver, placeOf } from './beats';
import { chanceFrom } from './chance';
import { comping } from './comping';
import { DRUMS, FEELS, type Drum, type Feel, type FeelName, type Grid } from './feels';
import type { ChordSpan, Hit } from './hits';

/** The parts that have a level of their own. */
export const BAND_PARTS = ['click', 'drums', 'bass', 'chords'] as const;

/** A note of the band, in seconds. What counts in is heard whatever the click's own level. */
export type BandNote = {
  readonly at: number;
  readonly lasts: number;
  /** 0 … 1. */
  readonly level: number;
} & (
  | { readonly part: 'click' | 'count' }
  | { readonly part: 'drums'; readonly drum: Drum }
  | { readonly part: 'bass' | 'chords'; readonly midi: number }
);

/** What the band is to play. */
export interface BandAsked {
  readonly piece: Piece;
  /** Nothing but the click where left out. */
  readonly feel?: FeelName;
  /** The measures as they are played: the first of them, and the one after the last, from 0. */
  readonly part?: readonly [number, number];
  /** The end leads to the beginning again. */
  readonly round?: boolean;
  /** Semitones by which all of it is moved; 0 where left out. */
  readonly transposed?: number;
  /** A whole number; the same seed, the same notes. */
  readonly seed?: number;
}

/** What the band plays, in order of time. */
export interface BandPlayed {
  readonly notes: readonly BandNote[];
  /** Seconds of the whole part at the written tempo. */
  readonly length: number;
}

const LEVELS: Readonly<Record<string, number>> = { X: 1, x: 0.7, o: 0.4 };
/** The first click of the measure, and the others. */
const CLICKS = [1, 0.5] as const;
const CLICK_LASTS = 0.03;
const DRUM_LASTS = 0.1;

/** A measure in seconds from the part's beginning. */
interface Placed {
  readonly clock: Clocked;
  readonly from: number;
  /** Quarter notes before its first sound, as if it were whole: a pickup begins late. */
  readonly missing: number;
  /** The hand is the player's alone: the band waits through a pickup. */
  readonly isPickup: boolean;
  /** Its number among the whole measures, by which grids take turns. */
  readonly turn: number;
}

/** The band's notes for a piece, or for some measures of it in the order of playing. */
export function bandOf(asked: BandAsked): BandPlayed {
  const { piece, feel, round = false, transposed = 0, seed = 1 } = asked;
  const { measures, moments } = inOrder(piece);
  const [first, after] = asked.part ?? [0, measures.length];
  const own = measures.slice(first, after);
  const begins = own[0]?.seconds ?? 0;
  const last = own.at(-1);
  const length = last === undefined ? 0 : last.seconds + last.lastsSeconds - begins;

  const clocks = clocked(piece);
  let turn = 0;
  const placed = own.map(({ measure, seconds }, index): Placed => {
    const clock = clocks[measure] as Clocked;
    const missing = quartersOf(clock.metre) - clock.length;
    const isPickup = first + index === 0 && missing > SAME_PLACE;
    return {
      ...{ clock, isPickup, from: seconds - begins },
      missing: isPickup ? missing : 0,
      turn: isPickup ? 0 : turn++,
    };
  });
  const clicks = placed.flatMap(clicksIn);
  if (feel === undefined) return { notes: clicks, length };

  const spans: ChordSpan[] = moments
    .map(({ chord, seconds, lastsSeconds }) => ({
      chord,
      from: Math.max(0, seconds - begins),
      until: Math.min(length, seconds + lastsSeconds - begins),
    }))
    .filter(({ from, until }) => until - from > SAME_PLACE);
  const led = withNext(joined(spans), round).flatMap((span) => beyondPickup(span, placed));
  const laid = (lane: (grid: Grid) => string | undefined): Hit[] =>
    placed.flatMap((measure) => hitsIn(FEELS[feel], measure, lane));
  const notes: BandNote[] = [
    ...clicks,
    ...DRUMS.flatMap((drum) =>
      laid(({ drums }) => drums[drum]).map(({ at, level }) => ({
        ...{ part: 'drums' as const, drum, at, level },
        lasts: DRUM_LASTS,
      })),
    ),
    ...bassLine(
      laid(({ bass }) => bass),
      led,
      transposed,
      chanceFrom(seed),
    ).map((note) => ({ part: 'bass' as const, ...note })),
    ...comping(
      laid(({ chords }) => chords),
      led,
      transposed,
    ).map((note) => ({ part: 'chords' as const, ...note })),
  ];
  return { notes: notes.sort((a, b) => a.at - b.at), length };
}

/** A measure of clicks before the beginning, and before a pickup what is missing of its measure. */
export function countInOf(piece: Piece, first = 0): BandPlayed {
  const { measures } = inOrder(piece, first + 1);
  const clock = clocked(piece)[measures[first]?.measure ?? 0];
  if (clock === undefined) return { notes: [], length: 0 };
  const whole = quartersOf(clock.metre);
  const missing = first === 0 ? Math.max(0, whole - clock.length) : 0;
  const tempo = clock.tempos[0]?.tempo ?? 100;
  const length = ((whole + (missing > SAME_PLACE ? missing : 0)) * 60) / tempo;
  const { quarters } = countedBy(clock.metre);
  const beat = (quarters * 60) / tempo;
  const beats = Math.round(whole / quarters);
  const notes = Array.from({ length: Math.ceil(length / beat - SAME_PLACE) }, (_, at) => ({
    ...{ part: 'count' as const, at: at * beat, lasts: CLICK_LASTS },
    level: CLICKS[at === 0 || at === beats ? 0 : 1],
  }));
  return { notes, length };
}

/** A chord that is written again goes on. */
function joined(spans: readonly ChordSpan[]): ChordSpan[] {
  const all: ChordSpan[] = [];
  for (const span of spans) {
    const before = all.at(-1);
    if (before !== undefined && symbolOf(before) === symbolOf(span))
      all[all.length - 1] = { ...before, until: span.until };
    else all.push(span);
  }
  return all;
}

const symbolOf = ({ chord }: ChordSpan): string => (chord === 'no chord' ? '' : chord.symbol);

/** Each chord with the one that it leads to. */
function withNext(spans: readonly ChordSpan[], round: boolean): ChordSpan[] {
  return spans.map((span, index) => {
    const next = spans[index + 1] ?? (round ? spans[0] : undefined);
    return next === undefined || next.chord === 'no chord' ? span : { ...span, next: next.chord };
  });
}

/** The part of a chord that lies behind the pickup, through which the band waits. */
function beyondPickup(span: ChordSpan, placed: readonly Placed[]): ChordSpan[] {
  const [pickup, next] = placed;
  if (pickup?.isPickup !== true) return [span];
  const from = Math.max(span.from, next?.from ?? Infinity);
  return span.until - from > SAME_PLACE ? [{ ...span, from }] : [];
}

/** A click on every beat that the measure has. */
function clicksIn({ clock, from, missing }: Placed): BandNote[] {
  const { quarters } = countedBy(clock.metre);
  const beats = Math.ceil((clock.length + missing) / quarters - SAME_PLACE);
  return Array.from({ length: beats }, (_, beat) => ({ beat, place: beat * quarters - missing }))
    .filter(({ place }) => place > -SAME_PLACE)
    .map(({ beat, place }) => ({
      ...{ part: 'click' as const, at: from + secondsTo(clock, place), lasts: CLICK_LASTS },
      level: CLICKS[beat === 0 ? 0 : 1],
    }));
}

/** What a lane of the feel's grids says in a measure. */
function hitsIn(
  feel: Feel,
  { clock, from, isPickup, turn }: Placed,
  lane: (grid: Grid) => string | undefined,
): Hit[] {
  if (isPickup) return [];
  const { quarters, compound } = countedBy(clock.metre);
  const beats = Math.ceil(clock.length / quarters - SAME_PLACE);
  return laidOver(feel, beats, turn).flatMap(({ grid, from: first, beats: many }) => {
    const text = (lane(grid) ?? '').slice(0, many * grid.per);
    const secondsAt = (step: number): number =>
      from +
      secondsTo(clock, Math.min(clock.length, (first + placeOf(grid, step, compound)) * quarters));
    return [...text].flatMap((letter, step): Hit[] => {
      const place = (first + placeOf(grid, step, compound)) * quarters;
      if (letter === '.' || letter === '-' || place > clock.length - SAME_PLACE) return [];
      let ends = step + 1;
      while (text[ends] === '-') ends++;
      const at = secondsAt(step);
      return [{ at, lasts: secondsAt(ends) - at, level: LEVELS[letter] ?? 0.8, letter }];
    });
  });
}
