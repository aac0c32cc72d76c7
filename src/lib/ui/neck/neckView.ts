/**
 * What the neck, and pedals and levers under it, show, as plain data. Whoever knows the music fills it in; the
 * components draw it and report what the player touched.
 */
import type { Station } from '$lib/setup/setup';

export type ToneColour =
  | 'root'
  | 'third'
  | 'fifth'
  | 'seventh'
  | 'extension'
  | 'alteration'
  | 'plain';

export interface NeckTone {
  /** What stands in the disc: `3`, `♭7`, `R` or `G♯`. */
  readonly text: string;
  readonly colour: ToneColour;
  /** In words: "third, E 4". */
  readonly spoken: string;
  /** The other label, written small beside the disc. */
  readonly small?: string;
}

export interface NeckPull {
  readonly semitones: number;
  /** `+2`, `−1`. */
  readonly text: string;
  readonly half: boolean;
}

export interface NeckString {
  /** 1 is farthest from the player. */
  readonly number: number;
  /** `F♯4`. */
  readonly open: string;
  /** "F sharp 4". */
  readonly spokenOpen: string;
  /** Diameter in inches. */
  readonly gauge?: number;
  readonly wound?: boolean;
  readonly picked: boolean;
  /** What sounds under the bar on this string now. */
  readonly tone?: NeckTone;
  /** The net move at the changer now. */
  readonly pull?: NeckPull;
}

export interface NeckView {
  readonly neckName: string;
  /** The highest fret. */
  readonly frets: number;
  readonly scaleLengthMm: number;
  /** Where the bar lies; on a slant, where it lies on the nearer of the two slant strings. */
  readonly fret: number;
  /** Frets by which the bar lies higher at the farther slant string; 0 or absent is straight. */
  readonly slant?: number;
  /** The farther and the nearer string between which a slant is counted; else first and last. */
  readonly slantStrings?: readonly [number, number];
  /** String 1 first. */
  readonly strings: readonly NeckString[];
}

export type Spacing = 'true' | 'equal';

export type ControlState = 'off' | 'half' | 'full';

export interface ControlView {
  readonly id: string;
  readonly station: Station;
  readonly state: ControlState;
  readonly hasHalf: boolean;
  /** It moves a string of the neck on show. */
  readonly pullsHere: boolean;
  /** "Pedal A, P1: string 5 up 2, string 10 up 2". */
  readonly spoken: string;
  /** It could be engaged together with what is engaged now. */
  readonly reachable: boolean;
  /** It is not there, or not so: a free station, or one for which something is proposed. */
  readonly ghost?: Ghost;
}

export type Ghost = 'free' | 'added' | 'altered' | 'removed';
