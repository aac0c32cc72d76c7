/** How a player wants a progression played: for the whole piece, and for single chords of it. */
import type { Match } from '$lib/theory/allowedSets';
import type { WantedNote } from '$lib/search/find';
import type { Hold } from '$lib/search/hold';
import type { NotesWished } from './noteWishes';
import type { Strikes } from './strike';
import type { Textures } from './texture';
import { EVEN_WAY, type WayBalance } from '$lib/effort/weights';

/** What the melody asks for: its very note on top, that note in any octave, or nothing. */
export const MELODY_WISHES = ['exact', 'octave', 'off'] as const;
export type MelodyWish = (typeof MELODY_WISHES)[number];

/**
 * Who plays a bass that is written after a slash: the grip has it lowest, the band has it and the grip plays
 * the chord above, or the grip unless that makes a cluster of it (as C/B on three neighbouring strings).
 */
export const BASS_WISHES = ['clear', 'grip', 'band'] as const;
export type BassWish = (typeof BASS_WISHES)[number];

export interface Wishes {
  /** Necks to use, from 1; all where left out. */
  readonly necks?: readonly number[];
  readonly frets?: readonly [number, number];
  /** Fewest and most strings at once. */
  readonly sizes: readonly [number, number];
  /** As each chord is matched by default where left out. */
  readonly match?: Match;
  readonly melody: MelodyWish;
  readonly bass: BassWish;
  readonly slants: boolean;
  /** Ids of controls not to use. */
  readonly without: readonly string[];
  /** Degree numbers that must sound wherever a chord has them: 1, 3, 5, 7, 9 … */
  readonly must: readonly number[];
  /** Grips to prefer: any other costs more. */
  readonly prefer: readonly (readonly number[])[];
  /** Grips to avoid: they cost more. */
  readonly avoid: readonly (readonly number[])[];
  /** Where the bar is before the first chord. */
  readonly home?: number;
  /** The bar stays within so many frets of its lowest. */
  readonly pocket?: number;
  /** The last chord is played where the bar began. */
  readonly endAsBegun: boolean;
  /** What is repeated may be played otherwise each time. */
  readonly freePasses?: boolean;
  /** By step: the first step that is the same chord as written and is played alike; see `withPasses`. */
  readonly passes?: readonly number[];
  readonly balance: WayBalance;
  /** By step, from 0. */
  readonly steps: ReadonlyMap<number, StepWishes>;
  /** What is played of the chords and the tune; one voicing a chord where left out. */
  readonly textures?: Textures;
  /** What is asked of single notes of the tune. */
  readonly notes?: NotesWished;
  /** How a tune is struck. */
  readonly strikes?: Strikes;
}

/** One chord's own: locks, and what it is freed from. */
export interface StepWishes {
  readonly hold?: Hold;
  readonly fret?: number;
  readonly top?: WantedNote;
  readonly match?: Match;
  readonly melody?: MelodyWish;
  /** The melody note is put an octave lower. */
  readonly octaveDown?: boolean;
  readonly slants?: boolean;
  readonly sizes?: readonly [number, number];
  /** The range of frets does not bind here. */
  readonly anyFret?: boolean;
  /** The tones that must sound need not here. */
  readonly anyTones?: boolean;
  /** Controls that are not to be used may be here. */
  readonly anyControl?: boolean;
  /** Voicings that are not to be offered again, as `voicingKey` writes them. */
  readonly except?: readonly string[];
}

/**
 * A player who asks for nothing: three or four strings, the melody just as it is written, all parts of
 * the effort alike. With `slants` the bar may be slanted.
 */
export const noWishes = (slants: boolean): Wishes => ({
  sizes: [3, 4],
  melody: 'exact',
  bass: 'clear',
  slants,
  without: [],
  must: [],
  prefer: [],
  avoid: [],
  endAsBegun: false,
  balance: EVEN_WAY,
  steps: new Map(),
});
