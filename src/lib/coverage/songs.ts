/**
 * Songs as the measure of a setup: the effort of the best arrangement of each, before and after a change or
 * on one setup and on another.
 */
import { arrange, readyFor, type ArrangedWay } from '$lib/arrange/arrange';
import { findWays } from '$lib/arrange/constrained';
import { withPasses } from '$lib/arrange/passes';
import type { Piece } from '$lib/arrange/piece';
import { stepsOf, type Progression } from '$lib/arrange/progression';
import { noWishes, type Wishes } from '$lib/arrange/wishes';
import { PER_UNIT } from '$lib/effort/effort';
import { slantsByDefault } from '$lib/search/nutIndex';
import type { Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';

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

/** A chord of a song that a setup has not. */
export interface MissingChord {
  /** From 1, in the order of playing. */
  readonly measure: number;
  readonly symbol: string;
}

/** A song on a setup. */
export interface SongPlayed {
  /** Chords that cannot be played, in the order of playing; none where the song can be played. */
  readonly missing: readonly MissingChord[];
  /** The effort of the best arrangement; of what can be played of it. In units of one easy pedal press. */
  readonly effort: number;
  /** The best arrangement; left out where no chord can be played. */
  readonly way?: ArrangedWay;
}

/**
 * What a change is to a song: it can be played now and could not before, or the other way round; it saves
 * or costs effort; it is the same; or it can be played neither before nor after.
 */
export const SONG_KINDS = ['opened', 'closed', 'easier', 'harder', 'same', 'neither'] as const;
export type SongKind = (typeof SONG_KINDS)[number];

/** A song on two setups. */
export interface SongBetween {
  readonly name: string;
  readonly weight: number;
  readonly before: SongPlayed;
  readonly after: SongPlayed;
  readonly kind: SongKind;
  /** Effort that is saved, below 0 where it is more; nothing where it cannot be played on both. */
  readonly saved?: number;
}

/** All songs together. */
export interface SongSums {
  /** Of the songs that can be played on both, each by its weight. In units of one easy pedal press. */
  readonly before: number;
  readonly after: number;
  readonly saved: number;
  /** How many songs are of each kind. */
  readonly counts: Readonly<Record<SongKind, number>>;
}

/** What is asked of the arrangement of a song: three or four strings, its tune as it is written. */
export const songWishes = ({ progression, piece }: Song, slants: boolean): Wishes =>
  withPasses(noWishes(slants), progression, piece);

/**
 * The best arrangement of a song on a setup, exact as `arrange` is.
 *
 * @param slants whether the bar may be slanted; where left out, on where the setup has no pedals
 */
export function songOn(setup: Setup, song: Song, slants = slantsByDefault(setup)): SongPlayed {
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

/** How a song stands on a setup, in figures alone. */
export interface SongFigures {
  /** How many of its chords cannot be played. */
  readonly missing: number;
  /** In thousandths: the effort of the best arrangement of what can be played. */
  readonly cost: number;
}

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

/** What a song that stands so, and then so, has of it. */
export function songKind(before: SongFigures, after: SongFigures): SongKind {
  if (before.missing > 0) return after.missing > 0 ? 'neither' : 'opened';
  if (after.missing > 0) return 'closed';
  return after.cost < before.cost ? 'easier' : after.cost > before.cost ? 'harder' : 'same';
}

const figuresOf = ({ missing, effort }: SongPlayed): SongFigures => ({
  missing: missing.length,
  cost: Math.round(effort * PER_UNIT),
});

/** A song before and after a change of the setup; the bar is slanted after it as it was before. */
export const songBetween = (before: Setup, after: Setup, song: Song): SongBetween => {
  const slants = slantsByDefault(before);
  return betweenOf(song, songOn(before, song, slants), songOn(after, song, slants));
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

/** Fewer chords missing is more than none: what one song that can be played in neither has of a change. */
const chordsWon = ({ before, after }: SongBetween): number =>
  before.missing.length - after.missing.length;

/** Songs that can be played now come first, then those that cannot any more, then by what is saved. */
export function inOrderOfUse(songs: readonly SongBetween[]): SongBetween[] {
  const rank = ({ kind }: SongBetween): number =>
    kind === 'opened' ? 0 : kind === 'closed' ? 1 : kind === 'neither' ? 3 : 2;
  return [...songs].sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (b.saved ?? 0) * b.weight - (a.saved ?? 0) * a.weight ||
      chordsWon(b) - chordsWon(a),
  );
}

/** What all songs come to. */
export function songSums(songs: readonly SongBetween[]): SongSums {
  const sum = (of: 'before' | 'after'): number =>
    songs.reduce(
      (all, song) =>
        song.saved === undefined
          ? all
          : all + Math.round(song.weight * song[of].effort * PER_UNIT) / PER_UNIT,
      0,
    );
  const rounded = (value: number): number => Math.round(value * PER_UNIT) / PER_UNIT;
  const [before, after] = [rounded(sum('before')), rounded(sum('after'))];
  const counts = Object.fromEntries(
    SONG_KINDS.map((kind) => [kind, songs.filter((song) => song.kind === kind).length]),
  ) as Record<SongKind, number>;
  return { before, after, saved: rounded(before - after), counts };
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
