/**
 * What a player asks of single notes of a tune: a note kept as it is played, moved to another string, or a
 * string turned down. Places are measures as they are written and beats within them, so that a wish holds
 * whatever texture is chosen, and each time a repeated measure is played.
 */
import { gripOf } from '$lib/search/grip';
import type { Hold } from '$lib/search/hold';
import type { Layer } from '$lib/engine/layer';
import { narrowed } from '$lib/engine/narrowed';
import { voicingKey } from './voicingKey';

/** One note's own, or one measure's. */
export interface NoteWishes {
  /** It is played just so. */
  readonly hold?: Hold;
  readonly fret?: number;
  /** Strings, from 1, that are among those that sound. */
  readonly strings?: readonly number[];
  /** The string, from 1, that has the note of the tune. */
  readonly tuneOn?: number;
  /** Strings, from 1, that are turned down. */
  readonly noStrings?: readonly number[];
  /** Ways of playing it that are turned down. */
  readonly noHolds?: readonly Hold[];
}

/** By place, as `placeOf` writes it; or by the measure's number alone, for every note in it. */
export type NotesWished = ReadonlyMap<string, NoteWishes>;

/** Beats from a measure's beginning as places say them: from 1, to a thousandth. */
export const beatAt = (beats: number): number => Math.round(beats * 1000) / 1000 + 1;

/** `5:2.5`: the measure from 1 as it is written, and the beat in it. @param measure from 0 */
export const placeOf = ({
  measure,
  beat,
}: {
  readonly measure: number;
  readonly beat: number;
}): string => `${measure + 1}:${beat}`;

/** What is asked of a note: of its measure, and of itself, which is stronger; nothing where all is free. */
export function wishedAt(
  wished: NotesWished | undefined,
  place: { readonly measure: number; readonly beat: number },
): NoteWishes | undefined {
  if (wished === undefined || wished.size === 0) return undefined;
  const all = wished.get(String(place.measure + 1));
  const own = wished.get(placeOf(place));
  if (all === undefined || own === undefined) return own ?? all;
  return {
    ...all,
    ...own,
    ...(all.noStrings && own.noStrings
      ? { noStrings: [...new Set([...all.noStrings, ...own.noStrings])] }
      : {}),
  };
}

/** The candidates that wishes leave; none where they ask for what there is not. */
export function asWished(layer: Layer, wishes: NoteWishes): Layer {
  const { hold, fret, strings = [], tuneOn, noStrings = [], noHolds = [] } = wishes;
  const held = hold && voicingKey(hold, gripOf(hold.strings));
  const needed = gripOf(strings);
  const barred = gripOf(noStrings);
  const never = new Set(noHolds.map((each) => voicingKey(each, gripOf(each.strings))));
  const isSought = held !== undefined || never.size > 0;
  return narrowed(layer, (candidate) => {
    const grip = layer.grip[candidate] as number;
    const position = layer.positions[layer.position[candidate] as number];
    if (position === undefined) return false;
    if ((grip & needed) !== needed || (grip & barred) !== 0) return false;
    if (fret !== undefined && position.fret !== fret) return false;
    if (tuneOn !== undefined && (grip & (1 << (tuneOn - 1))) === 0) return false;
    if (!isSought) return true;
    const key = voicingKey(position, grip);
    return (held === undefined || key === held) && !never.has(key);
  }).layer;
}
