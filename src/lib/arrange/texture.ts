/** What is played of a piece: its chords, its tune, or both. */

/** Two voices: the tune, and below it an interval of the key's scale. */
const HARMONIZED = ['thirds', 'sixths', 'tenths'] as const;
export type Harmonized = (typeof HARMONIZED)[number];

/**
 * One voicing a chord; the tune alone; the tune with a second voice below; the tune on top of voicings of
 * the chord of the moment.
 */
export const TEXTURES = ['chords', 'line', ...HARMONIZED, 'chord-melody'] as const;
export type Texture = (typeof TEXTURES)[number];

/** Where the tune stands on voicings: on every note, on notes at a beat, or where the chord changes. */
export const HARMONIES = ['every', 'beats', 'changes'] as const;
export type Harmony = (typeof HARMONIES)[number];

/** What is played where. */
export interface Textures {
  /** Where nothing else is said. */
  readonly texture: Texture;
  readonly harmony: Harmony;
  /** Of measures as they are written, from 1, both included; of two for one measure the later holds. */
  readonly measures: readonly {
    readonly from: number;
    readonly to: number;
    readonly texture: Texture;
  }[];
}

/** What is played of a measure, by its number as written, from 1. */
export const textureOf = ({ texture, measures }: Textures, measure: number): Texture =>
  measures.findLast(({ from, to }) => from <= measure && measure <= to)?.texture ?? texture;

/** One voicing a chord from beginning to end, and nothing of the tune. */
export const isChordsAlone = ({ texture, measures }: Textures): boolean =>
  texture === 'chords' && measures.every((each) => each.texture === 'chords');
