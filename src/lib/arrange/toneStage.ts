/** The candidates of one moment of a tune, with what each string of them sounds. */
import { pcSetOf } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import type { NeckCombinations } from '$lib/search/combinations';
import type { NutIndex } from '$lib/search/nutIndex';
import { gripSize, stringsIn } from '$lib/search/grip';
import { splitTerms } from '$lib/effort/clarity';
import { thousandths } from '$lib/effort/effort';
import type { WayBalance } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { STRIDE, layerOf, type Layer, type Position } from '$lib/engine/layer';
import { Cached } from '$lib/engine/memo';
import { necksOf, stageOf, type Stage } from './stage';
import type { Wishes } from './wishes';

/** A stage of a tune. */
export interface ToneStage {
  readonly stage: Stage;
  /** By neck, from 1. */
  readonly indexes: ReadonlyMap<number, NutIndex>;
  /** By candidate: the pitches of its strings from the far one on, at `candidate * STRIDE`. */
  readonly sounds: Uint8Array;
  readonly bars: Bars;
  /** By position and string (from 0), at `position * STRINGS + string`: the needed controls that move it, a bit each. */
  readonly movers: Uint32Array;
}

/** More than the strings of a neck; the stride of `movers`. */
export const STRINGS = 16;

/** Where the bar lies, by position of a layer. */
export interface Bars {
  /** All of it as one number. */
  readonly place: Int32Array;
  readonly fret: Int32Array;
  readonly slant: Int32Array;
  readonly neck: Int32Array;
}

const barsOf = ({ positions }: Layer): Bars => ({
  place: Int32Array.from(positions, ({ neck, fret, slant }) => (neck * 64 + fret) * 8 + slant + 2),
  fret: Int32Array.from(positions, ({ fret }) => fret),
  slant: Int32Array.from(positions, ({ slant }) => slant),
  neck: Int32Array.from(positions, ({ neck }) => neck),
});

/** So many strings between a raise and a lower, in thousandths. */
export const splitPrice = (many: number, balance: WayBalance): number =>
  thousandths(splitTerms(many), 'clarity', balance);

/** What moves each string of a layer, as `movers` of a stage has it. */
export function moversOf(
  { positions }: Layer,
  indexes: ReadonlyMap<number, { readonly on: NeckCombinations }>,
): Uint32Array {
  const movers = new Uint32Array(positions.length * STRINGS);
  positions.forEach(({ neck, combination }, position) => {
    const on = indexes.get(neck)?.on;
    if (on !== undefined) movers.set(on.moversIn(combination), position * STRINGS);
  });
  return movers;
}

/**
 * A layer as a moment of a tune: its splits priced, for what stands alone is heard as it is, its strings' pitches at
 * hand, and what moves them.
 */
export function toneStageOf(
  layer: Layer,
  indexes: ReadonlyMap<number, NutIndex>,
  balance: WayBalance,
): ToneStage {
  const sounds = new Uint8Array(layer.count * STRIDE);
  const prices = Array.from({ length: STRIDE + 1 }, (_, many) => splitPrice(many, balance));
  const effort = new Int32Array(layer.count);
  layer.members.forEach((own, position) => {
    const { neck, fret, combination } = layer.positions[position] as Position;
    const index = indexes.get(neck);
    if (index === undefined) return;
    const splits = index.on.splits[combination] as number;
    for (const candidate of own) {
      index.soundInto(layer.voicing[candidate] as number, fret, sounds, candidate * STRIDE);
      const split = prices[gripSize(splits & (layer.grip[candidate] as number))] as number;
      effort[candidate] =
        (layer.effort[candidate] as number) - (layer.feet[candidate] as number) + split;
    }
  });
  return {
    stage: stageOf(layer, necksOf(indexes), effort),
    indexes,
    sounds,
    bars: barsOf(layer),
    movers: moversOf(layer, indexes),
  };
}

/** Moments of a tune that are remembered with an instrument: some hundred different ones make a piece. */
export const TONES = new Cached<ToneStage>(300);

/** All that sounds just these pitches, a string each; they are different, and ascend. */
export function tones(setup: Setup, wishes: Wishes, pitches: readonly Midi[]): ToneStage {
  const { without, slants, balance } = wishes;
  const playing = compile(setup).leaving(without);
  const necks = wishes.necks ?? setup.necks.map((_, at) => at + 1);
  const many = pitches.length;
  const indexes = new Map(
    necks.map((neck) => [neck, playing.index(neck, { sizes: [many, many], slants })] as const),
  );
  const frets = wishes.frets ?? ([0, setup.frets] as const);
  const asked = JSON.stringify([necks, many, slants, pitches, frets, balance]);
  return playing.once(TONES, asked, () => {
    const layer = layerOf(playing, [...indexes.values()], {
      sets: [{ set: pcSetOf(pitches.map(chromaOf)), missing: [] }],
      lowest: [{ midi: pitches[0] ?? 0 }],
      highest: [{ midi: pitches.at(-1) ?? 0 }],
      frets,
      balance,
      prefer: new Set(),
      avoid: new Set(),
    });
    return toneStageOf(layer, indexes, balance);
  });
}

/** A candidate's strings, from 1, and what they sound. */
export function soundOf({ stage: { layer }, sounds }: ToneStage, candidate: number) {
  const strings = stringsIn(layer.grip[candidate] as number);
  const pitches = strings.map((_, at) => sounds[candidate * STRIDE + at] as number);
  return { strings, pitches };
}

/** The strings, from 1, that sound the highest pitch of a candidate. */
export function highestOn({ stage: { layer }, sounds }: ToneStage, candidate: number): number[] {
  const top = layer.top[candidate] as number;
  return stringsIn(layer.grip[candidate] as number).filter(
    (_, at) => sounds[candidate * STRIDE + at] === top,
  );
}
