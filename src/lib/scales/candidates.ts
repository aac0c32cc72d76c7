/** Candidates of the moments of a passage: a position as it is, notes, and chords with a note on top. */
import { pcSetOf } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import type { WantedNote, WantedSet } from '$lib/search/find';
import { gripOf } from '$lib/search/grip';
import { pitchesOf, type Hold } from '$lib/search/hold';
import { compile, type IndexQuestion } from '$lib/engine/instrument';
import { layerOf, type Layer } from '$lib/engine/layer';
import { narrowed } from '$lib/engine/narrowed';
import { Cached } from '$lib/engine/memo';
import { toneStageOf, type ToneStage } from '$lib/arrange/toneStage';
import type { Wishes } from '$lib/arrange/wishes';

/** The chords that passages of a few questions touch: where they lie, and as moments of a tune. */
const LAYERS = new Cached<Layer>(100);
const STAGES = new Cached<ToneStage>(100);

interface Asked {
  readonly neck: number;
  readonly index: IndexQuestion;
  readonly sets: readonly WantedSet[];
  readonly highest: readonly WantedNote[];
  readonly lowest: readonly WantedNote[];
  readonly frets: readonly [number, number];
}

function layerAsked(setup: Setup, { balance, without }: Wishes, asked: Asked) {
  const playing = compile(setup).leaving(without);
  const index = playing.index(asked.neck, asked.index);
  const text = JSON.stringify([asked, balance]);
  const layer = playing.once(LAYERS, text, () =>
    layerOf(playing, [index], { ...asked, balance, prefer: new Set(), avoid: new Set() }),
  );
  const indexes = new Map([[asked.neck, index]]);
  /** The whole layer as a moment of a tune. */
  const stage = (): ToneStage =>
    playing.once(STAGES, text, () => toneStageOf(layer, indexes, balance));
  return { layer, indexes, stage };
}

/**
 * A position as it is held, with those of its controls that its strings need; none where a setup has it not.
 * Where a control is idle there the candidate goes without.
 */
export function asHeld(setup: Setup, wishes: Wishes, hold: Hold): ToneStage {
  const many = hold.strings.length;
  const sounds = pitchesOf(setup, hold);
  const { layer, indexes } = layerAsked(setup, wishes, {
    neck: hold.neck,
    index: { sizes: [many, many], slants: hold.slant !== 0, strings: hold.strings },
    sets: [{ set: pcSetOf(sounds.map(chromaOf)), missing: [] }],
    lowest: [],
    highest: [],
    frets: [0, setup.frets],
  });
  const grip = gripOf(hold.strings);
  const own = narrowed(layer, (candidate) => {
    const at = layer.positions[layer.position[candidate] as number];
    return (
      at !== undefined &&
      layer.grip[candidate] === grip &&
      at.fret === hold.fret &&
      at.slant === hold.slant &&
      at.engaged.every(({ id, state }) =>
        hold.engaged.some((each) => each.id === id && each.state === state),
      ) &&
      // string by string: a control that makes two strings change notes sounds as nothing does, and is the position's
      pitchesOf(setup, { ...hold, engaged: at.engaged }).every((pitch, i) => sounds[i] === pitch)
    );
  }).layer;
  return toneStageOf(own, indexes, wishes.balance);
}

/** Voicings that say one of some sets, with a note on top where one is asked. */
export function asChords(
  setup: Setup,
  wishes: Wishes,
  {
    neck,
    sets,
    lowest = [],
    top,
  }: {
    readonly neck: number;
    readonly sets: readonly WantedSet[];
    readonly lowest?: readonly WantedNote[];
    readonly top?: Midi;
  },
): ToneStage {
  const { stage } = layerAsked(setup, wishes, {
    neck,
    index: { sizes: wishes.sizes, slants: wishes.slants },
    sets,
    lowest,
    highest: top === undefined ? [] : [{ midi: top }],
    frets: wishes.frets ?? [0, setup.frets],
  });
  return stage();
}
