/**
 * Stops that belong together. The same note in two octaves shows every cent: the octave's partials all
 * meet, so that nothing hides its beating, where a third off by as much is only less sweet. Players
 * therefore tune the octaves of open strings pure, and those that one control pulls; chords that would
 * like to have it otherwise (most have only one of the two) give way.
 */
import { chromaOf } from '$lib/theory/pitch';
import { sameStop, type Stop } from './stops';

/** Is one the like of the other: the same note name, both open or pulled by the same controls? */
const isKin = (a: Stop, b: Stop): boolean =>
  chromaOf(a.midi) === chromaOf(b.midi) && sameStop({ ...a, string: b.string }, b);

/** By stop: the place of the first stop that it belongs with, which is its own where there is none. */
export const kinOf = (stops: readonly Stop[]): number[] =>
  stops.map((stop) => stops.findIndex((other) => isKin(other, stop)));

/**
 * A stop that sounds the same note, in any octave, among some (by place in `stops`), for a stop that
 * nothing else decides: on the same string before another, since there the hand hears them one after
 * the other.
 */
export function likeOf(
  stops: readonly Stop[],
  stop: number,
  among: (place: number) => boolean,
): number | undefined {
  const own = stops[stop];
  if (own === undefined) return undefined;
  const like = stops.flatMap((other, place) =>
    place !== stop && among(place) && chromaOf(other.midi) === chromaOf(own.midi) ? [place] : [],
  );
  return like.find((place) => stops[place]?.string === own.string) ?? like[0];
}
