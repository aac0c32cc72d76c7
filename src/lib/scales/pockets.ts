/** Pockets of a scale: stretches of a few frets, with what of the scale lies there and the least work to play it. */
import { has, pcSetOf, sizeOf } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { nextInScale, type Scale } from '$lib/theory/scales';
import { openMidi, type Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import type { ReadyTune, TuneWay } from '$lib/arrange/tune';
import { PER_UNIT } from '$lib/effort/effort';
import { bestThrough, readySequence } from './sequence';
import { leastOfNotes } from './singleNotes';

/** Frets that a pocket goes up from its lowest: 0 is one position of the bar. */
export const POCKET_STRETCHES = [0, 1, 2, 3] as const;
export type PocketStretch = (typeof POCKET_STRETCHES)[number];

/** A run goes in eighth notes at a moderate speed: hurry makes moves of the bar dearer. */
const RUN = { lasts: 0.5, tempo: 100 } as const;

/** A stretch of frets. */
export interface ScalePocket {
  readonly frets: readonly [number, number];
  /** Every note of the scale that some string has there with some reachable combination; ascending. */
  readonly notes: readonly Midi[];
  /** Of these the longest unbroken part of the scale, lowest and highest; the lower one of two as long. */
  readonly range: readonly [number, number];
  /** How many different tones of the scale that part has. */
  readonly tones: number;
  /** Whole octaves that it goes through. */
  readonly octaves: number;
}

/** A pocket with the work of its best run: up through the unbroken part and down again. */
export interface PricedPocket extends ScalePocket {
  /** The least effort of the whole run. */
  readonly total: number;
  /** The same by note of the run. */
  readonly perNote: number;
}

/** By string of a neck: the semitones by which some reachable combination moves it. */
function movesByString(setup: Setup, neck: number): readonly (readonly number[])[] {
  const on = compile(setup).combinationsOn(neck);
  const moves = Array.from({ length: on.strings }, () => new Set<number>());
  for (const combination of on.distinct)
    moves.forEach((own, s) => own.add(on.moves[combination * on.strings + s] ?? 0));
  return moves.map((own) => [...own]);
}

/** The longest part of some notes of a scale in which none of it is left out. */
function unbroken(scale: Scale, notes: readonly Midi[]): readonly Midi[] {
  let best: readonly Midi[] = [];
  let now: Midi[] = [];
  for (const note of notes) {
    const last = now.at(-1);
    now = last !== undefined && nextInScale(scale, last) === note ? [...now, note] : [note];
    if (now.length > best.length) best = now;
  }
  return best;
}

/** What lies in each stretch of frets of a neck, from the nut up; stretches without a note are left out. */
export function pocketsIn(
  setup: Setup,
  scale: Scale,
  neck: number,
  stretch: number,
  [low, high]: readonly [number, number] = [0, setup.frets],
): ScalePocket[] {
  const on = setup.necks[neck - 1];
  if (on === undefined) throw new Error(`neck ${neck} is not in the setup`);
  const open = openMidi(on);
  const moves = movesByString(setup, neck);
  const width = Math.min(stretch, high - low);
  return Array.from({ length: high - low - width + 1 }, (_, at) => low + at).flatMap(
    (first): ScalePocket[] => {
      const found = new Set<Midi>();
      for (let fret = first; fret <= first + width; fret++)
        moves.forEach((own, s) => {
          for (const move of own) {
            const pitch = (open[s] ?? 0) + move + fret;
            if (has(scale.pitchClasses, chromaOf(pitch))) found.add(pitch);
          }
        });
      const notes = [...found].sort((a, b) => a - b);
      const whole = unbroken(scale, notes);
      const [lowest, highest] = [whole[0], whole.at(-1)];
      if (lowest === undefined || highest === undefined) return [];
      return [
        {
          frets: [first, first + width],
          notes,
          range: [lowest, highest],
          tones: sizeOf(pcSetOf(whole)),
          octaves: Math.floor((highest - lowest) / 12),
        },
      ];
    },
  );
}

/** The run of a pocket: up and down again, the highest note once. */
function runOf(scale: Scale, [lowest, highest]: ScalePocket['range']): Midi[] {
  const up: Midi[] = [lowest];
  while ((up.at(-1) as Midi) < highest) up.push(nextInScale(scale, up.at(-1) as Midi));
  return [...up, ...up.slice(0, -1).reverse()];
}

const readyRun = (setup: Setup, scale: Scale, neck: number, pocket: ScalePocket): ReadyTune => {
  const field = { neck, frets: pocket.frets, slants: false };
  const sounds = runOf(scale, pocket.range).map((pitch) => [pitch]);
  const ready = readySequence(setup, scale, field, { sounds, ...RUN });
  if (ready === undefined) throw new Error(`no run between frets ${pocket.frets.join(' and ')}`);
  return ready;
};

/** A pocket with the work of the run through it that asks for the least. */
export function priced(
  setup: Setup,
  scale: Scale,
  neck: number,
  pocket: ScalePocket,
): PricedPocket {
  const notes = runOf(scale, pocket.range);
  const cost = leastOfNotes(setup, neck, notes, pocket.frets, (RUN.lasts * 60) / RUN.tempo);
  return {
    ...pocket,
    total: cost / PER_UNIT,
    perNote: Math.round(cost / notes.length) / PER_UNIT,
  };
}

/** The run through a pocket that asks for the least work. */
export const runThrough = (
  setup: Setup,
  scale: Scale,
  neck: number,
  pocket: ScalePocket,
): TuneWay => bestThrough(readyRun(setup, scale, neck, pocket), scale).way();

/**
 * Pockets in their order: first by how many tones of the scale they have, then by how many whole octaves
 * they go through, then by the work a note of the best run asks for; of two alike the lower one.
 */
export const inPocketOrder = (pockets: readonly PricedPocket[]): PricedPocket[] =>
  [...pockets].sort(
    (a, b) =>
      b.tones - a.tones ||
      b.octaves - a.octaves ||
      a.perNote - b.perNote ||
      a.frets[0] - b.frets[0],
  );
