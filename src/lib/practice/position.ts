/**
 * A position as it is learned: a chord type over the bar, wherever that lies. At a fret it is a hold that
 * sounds a chord; so one position practised at other frets says the chord on other roots.
 */
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { pcSetOf } from '$lib/theory/pcset';
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import { commonRoot } from '$lib/theory/spelling';
import { chordWith } from '$lib/theory/wantedType';
import { engagedCode } from '$lib/setup/engagedText';
import type { Engaged, Setup } from '$lib/setup/setup';
import { fits, pitchesOf, type Hold } from '$lib/search/hold';

/** A chord type and what gives it, apart from where the bar lies. */
export interface Shape {
  /** Canonical suffix of the chord type; empty for major. */
  readonly type: string;
  /** The chord's root where the bar lies at the nut. */
  readonly root: Chroma;
  /** From 1. */
  readonly neck: number;
  /** Frets by which the bar's far end leads; 0 is straight. */
  readonly slant: number;
  readonly engaged: readonly Engaged[];
  /** From 1, ascending. */
  readonly strings: readonly number[];
}

/** A position of the course. */
export interface CoursePosition extends Shape {
  /** The same for the same shape in every setup that has it. */
  readonly id: string;
  /** Of holding it, where 1 is one easy pedal press. */
  readonly effort: number;
  /** How often its chord type is met: a share of the repertoire, 0 … 1. */
  readonly weight: number;
  /** The id of the earlier position that it lies near to; the first of all has none. */
  readonly near?: string;
}

/** A text that names a shape: `m7/9/1/0/A,B/3-4-5`. */
export const shapeId = ({ type, root, neck, slant, engaged, strings }: Shape): string =>
  [type || 'maj', root, neck, slant, engagedCode(engaged) || '-', strings.join('-')].join('/');

/** The chord that a shape sounds with the bar at a fret. */
export function chordAt({ root, type }: Shape, fret: number): Chord {
  return chordWith(commonRoot(chromaOf(root + fret), type), type);
}

/** What hands and feet do for a shape with the bar at a fret. */
export const holdAt = ({ neck, slant, engaged, strings }: Shape, fret: number): Hold => ({
  neck,
  fret,
  slant,
  engaged,
  strings,
});

/** The frets, ascending, at which a shape lies on the neck, from the nut to the twelfth. */
export const fretsOf = (setup: Setup, shape: Shape): number[] =>
  Array.from({ length: Math.min(12, setup.frets) + 1 }, (_, fret) => fret).filter((fret) =>
    fits(setup, holdAt(shape, fret)),
  );

/** Whether pitches say a chord, as completely as an answer for it has to. */
export const says = (pitches: readonly Midi[], chord: Chord): boolean =>
  allowedSets(chord, defaultMatch(chord)).some(({ set }) => set === pcSetOf(pitches));

/** Whether a shape sounds its chord. */
export const sounds = (setup: Setup, shape: Shape, fret: number): boolean =>
  says(pitchesOf(setup, holdAt(shape, fret)), chordAt(shape, fret));
