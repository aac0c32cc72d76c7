/**
 * Pulls by what they do for songs. All pull sets of a station are weighed by the chord types of the songs
 * (`suggestion.ts`); the best of those are arranged song by song, exactly, and put in order by that.
 */
import { readyFor } from '$lib/arrange/arrange';
import { findWays } from '$lib/arrange/constrained';
import { PER_UNIT } from '$lib/effort/effort';
import type { PlainPull } from '$lib/setup/candidates';
import type { Control, Setup } from '$lib/setup/setup';
import { songKind, type SongFigures, type SongKind } from './songResults';
import { isNeeded, songWishes, type Song } from './songs';

/** What one pull set does for one song. */
export interface SongSaving {
  readonly name: string;
  readonly kind: SongKind;
  /** Effort that is saved, below 0 where it is more; `null` where it cannot be played on both. */
  readonly saved: number | null;
}

/** What a change does for the songs. */
export interface SavedForSongs {
  /** Weights of the songs that can be played with it and could not before, less those the other way round. */
  readonly opened: number;
  /** Effort saved over the songs that can be played on both, each by its weight. */
  readonly saved: number;
  /** In the order of the songs. */
  readonly songs: readonly SongSaving[];
}

/** A pull set with what it does for the songs. */
export interface PullsForSongs extends SavedForSongs {
  /** Its number among all pull sets of the station. */
  readonly candidate: number;
  readonly pulls: readonly PlainPull[];
  /** The score by the chord types of the songs, by which it was chosen to be arranged. */
  readonly score: number;
}

/**
 * The figures of a song with controls more, without solving it where they cannot change it.
 *
 * Where they stand at free stations, all that could be played before can still be, at the same
 * price: what the legs can hold without it is what they could hold, and a price asks only what is held, as
 * long as the middle of the pedal bar stays. Controls that no chord of the song needs in any of its voicings
 * are in no candidate of any step, and nothing but a need engages a control; so every way through the song is
 * one that was there, and the least of them costs what it did.
 *
 * @param controls the ids of the controls that were added at free stations; no pedals
 */
export function figuresWith(
  after: Setup,
  song: Song,
  slants: boolean,
  controls: readonly Control['id'][],
  before: SongFigures,
): SongFigures {
  const wishes = songWishes(song, slants);
  const { all, playable, question } = readyFor(after, song.progression, wishes);
  const missing = all.length - playable.length;
  if (!isNeeded(playable, controls) && missing === before.missing) return before;
  const [best] = findWays({ ...question, wishes, most: 1 }).ways;
  return { missing, cost: best?.cost ?? 0 };
}

/** What a change does for all songs, from their figures before and with it, in the order of the songs. */
export function savedForSongs(
  songs: readonly Song[],
  before: readonly SongFigures[],
  after: readonly SongFigures[],
): SavedForSongs {
  let [opened, saved] = [0, 0];
  const each = songs.map(({ name, weight }, at): SongSaving => {
    const [was, is] = [before[at] as SongFigures, after[at] as SongFigures];
    const kind = songKind(was, is);
    if (kind === 'opened') opened += weight;
    if (kind === 'closed') opened -= weight;
    if (was.missing > 0 || is.missing > 0) return { name, kind, saved: null };
    saved += weight * (was.cost - is.cost);
    return { name, kind, saved: (was.cost - is.cost) / PER_UNIT };
  });
  return { opened, saved: Math.round(saved) / PER_UNIT, songs: each };
}

/** Those that make most songs playable first, then those that save most, then by the chord types. */
export const byUseForSongs = (
  a: SavedForSongs & { readonly score: number },
  b: SavedForSongs & { readonly score: number },
): number => b.opened - a.opened || b.saved - a.saved || b.score - a.score;

/** Pull sets in that order; of equal ones those that move fewer strings first. */
export const bestForSongs = (found: readonly PullsForSongs[]): PullsForSongs[] =>
  [...found].sort(
    (a, b) => byUseForSongs(a, b) || a.pulls.length - b.pulls.length || a.candidate - b.candidate,
  );
