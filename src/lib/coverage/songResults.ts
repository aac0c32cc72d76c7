/** What songs have of a change or of another setup: each for itself, in order, and all together. */
import type { ArrangedWay } from '$lib/arrange/arrange';
import { PER_UNIT } from '$lib/effort/effort';

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
const SONG_KINDS = ['opened', 'closed', 'easier', 'harder', 'same', 'neither'] as const;
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

/** How a song stands on a setup, in figures alone. */
export interface SongFigures {
  /** How many of its chords cannot be played. */
  readonly missing: number;
  /** In thousandths: the effort of the best arrangement of what can be played. */
  readonly cost: number;
}

/** What a song that stands so, and then so, has of it. */
export function songKind(before: SongFigures, after: SongFigures): SongKind {
  if (before.missing > 0) return after.missing > 0 ? 'neither' : 'opened';
  if (after.missing > 0) return 'closed';
  return after.cost < before.cost ? 'easier' : after.cost > before.cost ? 'harder' : 'same';
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
