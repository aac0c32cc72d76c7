/**
 * When a figure is fine, near its limit, or beyond it. All of it is a setting: what a player dares is
 * theirs to say.
 */

export const BANDS = ['fine', 'near', 'beyond'] as const;
export type Band = (typeof BANDS)[number];

export interface BandSettings {
  /** Share of the least tensile strength at the highest raise from which a string is close to breaking. */
  readonly shareNear: number;
  /** … and from which it is over the limit. */
  readonly shareBeyond: number;
  /** Newtons at the lowest lower below which a string is nearly slack. */
  readonly slackNearN: number;
  /** … and below which it is slack. */
  readonly slackBeyondN: number;
  /** Newtons at the highest raise from which a string pulls unusually hard. */
  readonly heavyNearN: number;
  /** … and from which no changer should be asked to bear it. */
  readonly heavyBeyondN: number;
  /** Ratio of the tensions of neighbouring strings from which they feel unlike. */
  readonly unevenRatio: number;
  /** Work of a control against the middle one of its setup from which it stands out as heavy. */
  readonly heavyControl: number;
}

/** Where the bands begin as long as a player says nothing else. */
export const DEFAULT_BANDS: BandSettings = {
  // An .011 at G sharp raised to A stands at 88 % on a scale of 24¼ inches and at 93 % on one of 25:
  // the first is everyday, the second known for breaking strings.
  shareNear: 0.92,
  // A wire in order bears at least this.
  shareBeyond: 1,
  // Strings of the built-in setups lie between 70 and 160 newtons; well below half of that a bar
  // presses the string down rather than gliding on it. (Common practice, no published source.)
  slackNearN: 45,
  slackBeyondN: 30,
  heavyNearN: 200,
  heavyBeyondN: 300,
  unevenRatio: 1.5,
  heavyControl: 1.6,
};

/** Of strength, by sign and word, so that no colour is needed. */
export const BAND_WORDS: Readonly<Record<Band, string>> = {
  fine: 'fine',
  near: 'close to breaking',
  beyond: 'over the limit',
};
/** The sign of a band, beside its word. */
export const BAND_SIGNS: Readonly<Record<Band, string>> = { fine: '✓', near: '!', beyond: '✕' };

/** Of two bands the one nearer to breaking; the second where they are the same. */
export const worse = (a: Band, b: Band): Band => (BANDS.indexOf(a) > BANDS.indexOf(b) ? a : b);

/** Where more is worse. */
export const bandAbove = (value: number, near: number, beyond: number): Band =>
  value >= beyond ? 'beyond' : value >= near ? 'near' : 'fine';

/** Where less is worse. */
export const bandBelow = (value: number, near: number, beyond: number): Band =>
  value <= beyond ? 'beyond' : value <= near ? 'near' : 'fine';
