/** The candidates of one moment of a tune, with what each string of them sounds. */
import { pcSetOf } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { pullIn, type Setup } from '$lib/setup/setup';
import type { NutIndex } from '$lib/search/nutIndex';
import { gripSize, stringsIn } from '$lib/search/grip';
import { thousandths } from '$lib/effort/effort';
import { REACH_WEIGHTS, type Term, type WayBalance } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { STRIDE, layerOf, type Layer } from '$lib/engine/layer';
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
}

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

/** The strings of a neck that stand between a raise and a lower, string s (from 0) in bit s. */
export function splitStrings(setup: Setup, neck: number, engaged: Choice): number {
  let raised = 0;
  let lowered = 0;
  for (const { id, state } of engaged)
    for (const pull of setup.controls.find((each) => each.id === id)?.pulls ?? []) {
      if (pull.neck !== neck) continue;
      const move = pullIn(pull, state);
      if (move > 0) raised |= 1 << (pull.string - 1);
      if (move < 0) lowered |= 1 << (pull.string - 1);
    }
  return raised & lowered;
}

/** The terms of strings between a raise and a lower; so many of those that sound. */
export const splitTerms = (many: number): Term[] =>
  many === 0
    ? []
    : [
        {
          part: 'feet',
          name: many === 1 ? 'a split' : `${many} splits`,
          value: REACH_WEIGHTS.split * many,
        },
      ];

/** A layer as a moment of a tune: its splits priced, its strings' pitches at hand. */
export function toneStageOf(
  setup: Setup,
  layer: Layer,
  indexes: ReadonlyMap<number, NutIndex>,
  balance: WayBalance,
): ToneStage {
  const plain = stageOf(layer, necksOf(indexes));
  const splits = layer.positions.map(({ neck, engaged }) => splitStrings(setup, neck, engaged));
  const prices = Array.from({ length: STRIDE + 1 }, (_, many) =>
    thousandths(splitTerms(many), 'feet', balance),
  );
  const sounds = new Uint8Array(layer.count * STRIDE);
  const effort = plain.effort.map((price, candidate) => {
    const position = layer.position[candidate] as number;
    const { neck = 1, fret = 0 } = layer.positions[position] ?? {};
    const split = (splits[position] as number) & (layer.grip[candidate] as number);
    indexes
      .get(neck)
      ?.pitchesAtNut(layer.voicing[candidate] as number)
      .forEach((pitch, at) => (sounds[candidate * STRIDE + at] = pitch + fret));
    return price + (prices[gripSize(split)] as number);
  });
  return { stage: { ...plain, effort }, indexes, sounds, bars: barsOf(layer) };
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
    return toneStageOf(setup, layer, indexes, balance);
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
