/**
 * Notes, or some notes at once, one after the other in even time: the least work to play them, by the costs
 * of lines. The search is the one that arranges tunes, and as exact.
 */
import { chromaOf, pitchNamed, type Midi, type Pitch } from '$lib/theory/pitch';
import { pcSetOf } from '$lib/theory/pcset';
import type { Scale } from '$lib/theory/scales';
import { plainName, toneAt } from '$lib/theory/toneNames';
import type { Setup } from '$lib/setup/setup';
import { EVEN_WAY } from '$lib/effort/weights';
import { compile } from '$lib/engine/instrument';
import { layerOf } from '$lib/engine/layer';
import { Cached } from '$lib/engine/memo';
import type { Onset } from '$lib/arrange/onsets';
import { toneStageOf, type ToneStage } from '$lib/arrange/toneStage';
import { bestWays } from '$lib/arrange/bestWays';
import { tuneWays } from '$lib/arrange/readTune';
import { readyOnsets, type ReadyTune, type TuneWay } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';

/** Where it is to be played. */
export interface Field {
  /** From 1. */
  readonly neck: number;
  /** The lowest fret of the bar and the highest; under a slant both stand for the grip's nearest string. */
  readonly frets: readonly [number, number];
  /** Only these strings, from 1; any where left out. */
  readonly strings?: readonly number[];
  /** The bar may be slanted. */
  readonly slants: boolean;
}

/** Candidates that are remembered with an instrument: all notes of the neck in a few fields. */
const KEPT = new Cached<ToneStage>(1500);

/** All that sounds just these pitches, a string each; they are different and ascend, within two octaves. */
export function soundsIn(setup: Setup, field: Field, pitches: readonly Midi[]): ToneStage {
  const { neck, frets, strings, slants } = field;
  const playing = compile(setup);
  const many = pitches.length;
  const asked = JSON.stringify([neck, frets, strings, slants && many > 1, pitches]);
  return playing.once(KEPT, asked, () => {
    const index = playing.index(neck, {
      sizes: [many, many],
      slants: slants && many > 1,
      ...(strings === undefined ? {} : { strings }),
    });
    const layer = layerOf(playing, [index], {
      sets: [{ set: pcSetOf(pitches.map(chromaOf)), missing: [] }],
      lowest: [{ midi: pitches[0] ?? 0 }],
      highest: [{ midi: pitches.at(-1) ?? 0 }],
      frets,
      balance: EVEN_WAY,
      prefer: new Set(),
      avoid: new Set(),
    });
    return toneStageOf(layer, new Map([[neck, index]]), EVEN_WAY);
  });
}

/** A pitch as a scale spells it. */
export function spelledIn({ tones }: Pick<Scale, 'tones'>, midi: Midi): Pitch {
  return pitchNamed(toneAt(tones, midi)?.name ?? plainName(chromaOf(midi)), midi);
}

/** What is played, and how fast. */
export interface Sequence {
  /** By moment: its pitches, ascending. */
  readonly sounds: readonly (readonly Midi[])[];
  /** Quarter notes that each lasts. */
  readonly lasts: number;
  /** Quarter notes a minute. */
  readonly tempo: number;
}

/** The moments of a sequence, in time; the highest note of each is the one that sings. */
export function onsetsIn(scale: Scale, { sounds, lasts, tempo }: Sequence): Onset[] {
  const each = (lasts * 60) / tempo;
  return sounds.map((pitches, index): Onset => ({
    at: index * lasts,
    lasts,
    seconds: index * each,
    lastsSeconds: each,
    measure: Math.floor((index * lasts) / 4 + 1e-9),
    beat: ((index * lasts) % 4) + 1,
    texture: 'line',
    melody: spelledIn(scale, pitches.at(-1) ?? 0),
    melodyLasts: false,
    asChord: false,
    between: false,
    slurred: false,
  }));
}

/** A sequence ready to be solved; `undefined` where some of it cannot be played in the field. */
export function readySequence(
  setup: Setup,
  scale: Scale,
  field: Field,
  sequence: Sequence,
): ReadyTune | undefined {
  const { sounds } = sequence;
  let at = 0;
  const ready = readyOnsets(setup, noWishes(field.slants), onsetsIn(scale, sequence), () => {
    const tones = soundsIn(setup, field, sounds[at++] ?? []);
    return tones.stage.layer.count === 0 ? { lacks: 'all' } : { tones };
  });
  return ready.lacks.length > 0 ? undefined : ready;
}

/** The best way through a sequence, not laid out yet. */
export interface BestThrough {
  /** In thousandths. */
  readonly cost: number;
  /** Its notes are spelled as the scale spells them. */
  readonly way: () => TuneWay;
}

/** The best way to play it. */
export function bestThrough(ready: ReadyTune, { tones }: Scale): BestThrough {
  const [best] = bestWays({ ...ready.question, most: 1 });
  if (best === undefined) throw new Error('nothing to play');
  return {
    cost: best.cost,
    way: () => {
      const [way] = tuneWays(ready, [best]) as [TuneWay];
      return { ...way, steps: way.steps.map((step) => ({ ...step, tones })) };
    },
  };
}
