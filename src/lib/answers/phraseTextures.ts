/** What is played of a piece after a phrase was added to it. */
import type { Texture, Textures } from '$lib/arrange/texture';
import { measuresText, withMeasures } from './tuneWishes';

/** What is played of a piece, as texts. */
export interface TextureTexts {
  readonly texture?: string;
  readonly measures: string;
}

/**
 * What is played once a phrase stands after a piece: its own texture in its measures, and all else as before; in a
 * piece that was empty its texture is that of all.
 *
 * @param before how many measures the piece had
 * @param added how many the phrase has
 */
export function texturesAfter(
  textures: Textures | undefined,
  before: number,
  added: number,
  texture: Texture,
): TextureTexts {
  if (before === 0) return { texture, measures: '' };
  const { texture: usual, measures } = textures ?? { texture: 'chords', measures: [] };
  const own = texture === usual ? undefined : texture;
  return { measures: measuresText(withMeasures(measures, before + 1, before + added, own)) };
}
