/**
 * Songs as the measure of a setup: the effort of the best arrangement of each, before and after a change or
 * on one setup and on another.
 */
import { arrange, readyFor, type Ready } from '$lib/arrange/arrange';
import { findWays } from '$lib/arrange/constrained';
import { withPasses } from '$lib/arrange/passes';
import type { Piece } from '$lib/arrange/piece';
import { stepsOf, type Progression } from '$lib/arrange/progression';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { PER_UNIT } from '$lib/effort/effort';
import { slantsByDefault } from '$lib/search/nutIndex';
import { isPedal, type Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';
import { songKind, type SongBetween, type SongFigures, type SongPlayed } from './songResults';

/** A song of a repertoire. */
export interface Song {
  /** The name it is told by: of its file, or its title. */
  readonly name: string;
  readonly progression: Progression;
  /** The same as it is written, where it has a form: what is repeated is played alike. */
  readonly piece?: Piece;
  /** How much it counts beside the others, above 0; 1 where nothing is said. */
  readonly weight: number;
}

/** What is asked of the arrangement of a song: three or four strings, its tune as it is written. */
export const songWishes = ({ progression, piece }: Song, slants: boolean): Wishes =>
  withPasses(noWishes(slants), progression, piece);

/**
 * The best arrangement of a song on a setup, exact as `arrange` is.
 *
 * @param slants whether the bar may be slanted; where left out, on where the setup has no pedals
 */
function songOn(setup: Setup, song: Song, slants = slantsByDefault(setup)): SongPlayed {
  const { ways, unplayable } = arrange(setup, song.progression, songWishes(song, slants), 1);
  const [way] = ways;
  return {
    missing: unplayable.map(({ step, chord }) => ({
      measure: step.bar + 1,
      symbol: chord.symbol,
    })),
    effort: way?.total ?? 0,
    ...(way === undefined ? {} : { way }),
  };
}

/** Does some voicing of some chord need one of these controls? */
export const isNeeded = (playable: Ready['playable'], ids: readonly string[]): boolean =>
  playable.some(({ layer }) =>
    layer.positions.some(({ engaged }) => engaged.some(({ id }) => ids.includes(id))),
  );

/** The figures of `songOn`, without the arrangement in words: for a search that asks them often. */
export function songFigures(
  setup: Setup,
  song: Song,
  slants = slantsByDefault(setup),
): SongFigures {
  const wishes = songWishes(song, slants);
  const { all, playable, question } = readyFor(setup, song.progression, wishes);
  const [best] = findWays({ ...question, wishes, most: 1 }).ways;
  return { missing: all.length - playable.length, cost: best?.cost ?? 0 };
}

const figuresOf = ({ missing, effort }: SongPlayed): SongFigures => ({
  missing: missing.length,
  cost: Math.round(effort * PER_UNIT),
});

/** The ids of the levers that a setup has more; nothing where anything else is another. */
export function leversMore(before: Setup, after: Setup): readonly string[] | undefined {
  const more = after.controls.filter(
    ({ station }) => !before.controls.some((each) => each.station === station),
  );
  const ids = more.map(({ id }) => id);
  // a pedal more moves the middle of the pedal bar, and with it what the others cost
  if (more.some(({ station }) => isPedal(station))) return undefined;
  const rest = { ...after, controls: after.controls.filter(({ id }) => !ids.includes(id)) };
  return JSON.stringify(rest) === JSON.stringify(before) ? ids : undefined;
}

/**
 * A song before and after a change of the setup; the bar is slanted after it as it was before. Where levers were
 * added that no chord of the song needs it stays as it was (`songPulls.ts` has the proof), and is not solved again.
 */
export const songBetween = (before: Setup, after: Setup, song: Song): SongBetween => {
  const slants = slantsByDefault(before);
  const was = songOn(before, song, slants);
  const more = leversMore(before, after);
  const { all, playable } = readyFor(after, song.progression, songWishes(song, slants));
  const isSame =
    more !== undefined &&
    all.length - playable.length === was.missing.length &&
    !isNeeded(playable, more);
  return betweenOf(song, was, isSame ? was : songOn(after, song, slants));
};

/** A song on two setups of which neither is the other changed: each with the bar as it is usually held. */
export const songOnBoth = (a: Setup, b: Setup, song: Song): SongBetween =>
  betweenOf(song, songOn(a, song), songOn(b, song));

function betweenOf({ name, weight }: Song, before: SongPlayed, after: SongPlayed): SongBetween {
  const [was, is] = [figuresOf(before), figuresOf(after)];
  const kind = songKind(was, is);
  const isBoth = was.missing === 0 && is.missing === 0;
  return {
    ...{ name, weight, before, after, kind },
    ...(isBoth ? { saved: (was.cost - is.cost) / PER_UNIT } : {}),
  };
}

/**
 * The chord types that songs are made of, most used first: each weighs the measures that it lasts in all
 * songs by their weights, whole ones as far as they go. A bass after a slash is left aside.
 */
export function repertoireOfSongs(songs: readonly Song[]): Repertoire {
  const lasting = new Map<string, number>();
  for (const { progression, weight } of songs)
    for (const { chord, length } of stepsOf(progression)) {
      if (chord === 'no chord') continue;
      lasting.set(chord.type, (lasting.get(chord.type) ?? 0) + length * weight);
    }
  return [...lasting]
    .map(([type, weight]) => ({ type, weight }))
    .sort((a, b) => b.weight - a.weight);
}

/** How many chords some songs have in all. */
export const chordsIn = (songs: readonly Song[]): number =>
  songs.reduce((sum, { progression }) => sum + stepsOf(progression).length, 0);
