/**
 * What a chord book holds, before anything is drawn: sections of positions as small necks, of words, and of
 * tablature, as plain data.
 */
import type { Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import type { TabPiece } from './tablature';

/** One string of a small neck. */
export interface PaperString {
  /** The fret at which the bar stops it; under a slanted bar each has its own. */
  readonly fret: number;
  readonly pitch: Midi;
  /** Semitones by which pedals and levers move it. */
  readonly moved: number;
  /** The note that sounds, as people read it: `C♯4`. */
  readonly note: string;
  /** `R`, `3`, `♭7`; empty where the string sounds no tone of what is shown. */
  readonly tone: string;
  /** It belongs to the grip; or it may be played with it; or it may not. */
  readonly part: 'grip' | 'more' | 'none';
  /** What one control more makes of it, in a few signs. */
  readonly beside?: string;
}

/** A position as a small neck. */
export interface PaperNeck {
  readonly neck: number;
  /** What it is, above it: `C`, `Am → Am7`. */
  readonly name: string;
  /** Where it lies, as far as its name does not tell: `fret 3`, `C6, fret 3`; empty where it tells all. */
  readonly remark: string;
  readonly fret: number;
  readonly engaged: Choice;
  /** String 1 first. */
  readonly strings: readonly PaperString[];
  /** `3-4-5`, the best one first. */
  readonly grips: readonly string[];
  /** Degrees that it lacks. */
  readonly missing: readonly string[];
  readonly effort?: number;
}

/** Positions under one heading. */
export interface NeckGroup {
  readonly name: string;
  /** Stands beside the name, in small type: `G (R), B (3), D (5)`. */
  readonly aside?: string;
  /** Sentences above the necks. */
  readonly words: readonly string[];
  readonly necks: readonly PaperNeck[];
  /** Tablature below the necks. */
  readonly tab?: TabPiece;
  /** A sentence below everything. */
  readonly after?: string;
}

/** A chapter, which begins a page. */
export interface BookSection {
  readonly title: string;
  readonly words: readonly string[];
  readonly groups: readonly NeckGroup[];
}

/** A whole book. */
export interface Book {
  readonly title: string;
  /** What it is about, under the title. */
  readonly about: string;
  readonly setup: Setup;
  readonly sections: readonly BookSection[];
}
