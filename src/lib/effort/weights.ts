/**
 * The weights of hand position, each with its reason. The unit is the effort of pressing one easy
 * pedal. No measurements of this instrument were found in print; these are set by the common
 * practice of the trade, and the shape (hard limits first, then a sum of named terms) follows the
 * fingering literature for fretted instruments (Sayegh 1989; Radicioni 2006; Parncutt et al. 1997).
 */
export const WEIGHTS = {
  /** The unit; each further pedal is dearer, for the foot must turn to hold neighbours together. */
  pedal: [1, 1.1, 1.6, 2],
  /** A knee moves sideways about as easily as a foot presses. */
  lever: 1,
  /** The right foot has to keep the volume pedal steady while its knee moves. */
  rightKnee: 0.25,
  /** Lifting works against the weight of the leg, and the heel leaves its place. */
  leverUp: 1.4,
  /** A point inside the travel must be felt for, and held. */
  halfStop: 0.5,
  /** For each pedal by which the foot stands on the other side of the middle than the knee must go. */
  kneeAgainstFoot: 0.25,
  /** The leg does not twist further than this. */
  kneeAgainstFootMost: 1,
  /** Up and sideways with one knee: two movements held against each other. */
  kneeUpAndSideways: 0.8,

  /** Thumb and two fingers hold three picks; the ring finger helps; beyond that the thumb rakes. */
  strings: [0, 0, 0, 0, 0.4, 1.2, 2],
  /** Strange strings have to be looked for, and a look takes longer than a pedal. */
  strangeShape: 1.25,
  /** A string between two picked ones must be missed. */
  skippedString: 0.5,
  /** Beyond five strings from thumb to finger the hand stretches. */
  widerThanFive: 0.3,

  /** Half the neck (about 300 mm) weighs as much as one pedal and a half. */
  barPerMm: 0.005,
  /** Beyond the twelfth fret the arm reaches, and frets lie less than 18 mm apart. */
  fretBeyondTwelve: 0.05,
  /** The bar must be turned and aimed at two frets; by two frets it is longer on the strings. */
  slant: [0, 1, 1.5],
  /** Turning the near end ahead bends the wrist. */
  reverseSlant: 0.5,
} as const;

/** How much each part counts, 1 being the weights as they stand. */
export interface Balance {
  readonly feet: number;
  readonly picking: number;
  readonly bar: number;
}

export const EVEN: Balance = { feet: 1, picking: 1, bar: 1 };

/** The parts that a player can shift against one another. */
export const PARTS = ['feet', 'picking', 'bar'] as const;
export type Part = (typeof PARTS)[number];

/** One named piece of an effort. */
export interface Term {
  readonly part: Part;
  readonly name: string;
  readonly value: number;
}
