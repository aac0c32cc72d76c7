/**
 * The weights of hand position, each with its reason. The unit is the effort of pressing one easy
 * pedal. No measurements of this instrument were found in print; these are set by the common
 * practice of the trade, and the shape (hard limits first, then a sum of named terms) follows the
 * fingering literature for fretted instruments (Sayegh 1989; Radicioni 2006; Parncutt et al. 1997).
 */
export const WEIGHTS = {
  /**
   * The unit. The neighbour is pressed in the same movement of the same foot, which turns a little to
   * lie on both: little more than half a pedal. For three or four the sole is narrow, and must tilt.
   */
  pedal: [1, 0.6, 1.6, 2],
  /** A knee moves sideways about as easily as a foot presses. */
  lever: 1,
  /** The right foot has to keep the volume pedal steady while its knee moves. */
  rightKnee: 0.25,
  /** Lifting works against the weight of the leg, and the heel leaves its place. */
  leverUp: 1.4,
  /** The knee has to slide to where the second bank hangs before it can move. */
  secondBank: 0.3,
  /** The hand presses with its heel or wrist while its fingers pick; short and light, but not free. */
  handLever: 0.8,
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
  /**
   * Where a root's own chord lies open a player finds it without thinking; elsewhere the fret is
   * reckoned from there. Half a pedal, for the usual ways from it are learned early.
   */
  elsewhere: 0.5,
  /** The bar must be turned, and aimed at two frets. */
  slant: 0.6,
  /**
   * What its ends lie apart along the neck. Frets lie closer up the neck: from 1 to 3 the wrist turns
   * by 63 mm on a scale of 610, which is nearly all it can, from 13 to 15 by 31. From about fret 6 on,
   * an octave higher is no longer worth its reach.
   */
  slantPerMm: 0.012,
  /** Turning the near end ahead bends the wrist. */
  reverseSlant: 0.5,
} as const;

/**
 * The weights of clarity, in the same unit: how much more work a player takes for a voicing in which
 * the chord is heard. Common practice of harmony and arranging, from memory, where no source is told.
 */
export const CLARITY_WEIGHTS = {
  /** Third, sixth, seventh or the extension that names the chord: without it, it is another chord. */
  telling: 2.5,
  /** The bass or the ear supplies it; but a player who plays alone is the bass. */
  root: 1,
  /**
   * Without a root a third and a minor seventh still tell a dominant; any other rest is its own chord. With
   * the root it is one where a whole triad on another root is left: C6 without its fifth is A minor, C7sus4
   * without it F suspended.
   */
  otherChord: 2,
  /** A perfect fifth says least: it is among the partials of the root. */
  fifth: 0.7,
  /** Third, seventh and one altered tone are heard as altered; but the name promises fifth and ninth. */
  alteration: 1.5,
  /** A 9 or 11 below the extension that names the chord is seldom expected. */
  inner: 0.2,
  /** With neither root nor fifth nothing stands firm; the tritone belongs to two chords. */
  afloat: 1.5,
  /** The string adds a stroke and no tone; the voicing without it says the same. */
  unison: 8,
  /**
   * The closest rub: dearer than the strange and wide grip that sets the same tones apart. An octave
   * wider they are a colour.
   */
  semitone: 4,
  /** A whole tone rubs softly, and is a sound of the instrument. */
  wholeTone: 0.25,
  /** Three neighbours within two seconds are no chord to the ear any more. */
  cluster: 3.5,
  /** For each semitone by which a second or third lies lower than where it is clear. */
  lowPerSemitone: 0.15,
  /**
   * For each picked string between a raise and a lower: it is in tune only as far as the split has been set, and
   * is heard among strings that are. As dear as one more pedal, for players take whatever needs one control more or
   * a fret beside it first (common practice of the trade). In the notes of a tune it counts too; in the
   * chords of a piece no clarity does but what rubs or lies too low.
   */
  split: 1,
} as const;

/**
 * Low interval limits: by semitones, the lowest pitch over which a second or third is clear (minor
 * second E3, major second E♭3, minor third C3, major third B2), as the arranging literature gives them
 * (Lowell & Pullig, Arranging for Large Jazz Ensemble, as quoted; other tables differ by a semitone).
 * Wider intervals reach below the lowest strings of these instruments.
 */
export const LOWEST_CLEAR: Readonly<Record<number, number>> = { 1: 52, 2: 51, 3: 48, 4: 47 };

/** How much the work of each hand and of the feet counts, 1 being the weights as they stand. */
export interface WorkBalance {
  readonly feet: number;
  readonly picking: number;
  readonly bar: number;
}

/** The same, and how much it counts that a chord is heard clearly. */
export interface Balance extends WorkBalance {
  readonly clarity: number;
}

/** The weights as they stand. */
export const EVEN: Balance = { feet: 1, picking: 1, bar: 1, clarity: 1 };

/** The parts that are work. */
const WORK_PARTS = ['feet', 'picking', 'bar'] as const;
/** The parts that a player can shift against one another. */
export const PARTS = [...WORK_PARTS, 'clarity'] as const;
export type Part = (typeof PARTS)[number];

/** One named piece of an effort. */
export interface Term {
  readonly part: Part;
  readonly name: string;
  readonly value: number;
}

/**
 * The weights of going from one voicing to the next, in the same unit. What the hands hold is priced
 * above; this is what they do in between.
 */
export const MOVE_WEIGHTS = {
  /**
   * However short the way, the bar has to be lifted off the pitch, led and aimed anew; as dear as one
   * pedal. With it the chords that lie under one bar position belong together, as players use them.
   */
  barMoves: 1,
  /** The way itself; the same as in `WEIGHTS`, for it is the same arm. */
  barPerMm: 0.005,
  /**
   * Within a second the way counts as many times as the time goes into one: 300 mm in a quarter of a second
   * are four times as far as in one or in two. An arm that hurries misses, and one that has time does not.
   */
  hurry: 1,
  /** No one leads the bar in less; what is written shorter is a roll of chords. In seconds. */
  leastSeconds: 0.1,
  /**
   * A leap: for each fret beyond so many, half a pedal. Farther than a minor third the strings must be
   * blocked, the eye has to find the fret, and the line breaks; so a leap is for where something asks for it.
   */
  leapBeyond: 3,
  leapPerFret: 0.5,
  /** The steel is lifted over and laid down on the other neck, and the right hand follows. */
  otherNeck: 2,
  /** Each string that the picking hand takes up or leaves; the hand is quicker than the legs. */
  string: 0.2,
  /**
   * Each control that is pressed or let go, or taken to or from its half-stop. One that stays although it is
   * not needed any more is as dear once as letting it go, and free when it is let go after all.
   */
  control: 0.25,
  /** For each pedal by which the left foot is carried along; rocking to a neighbour is half a pedal. */
  footPerPedal: 0.3,
  /**
   * Each semitone that a voice moves. Small, for the bar moves voices without effort; it decides among
   * grips that are as easy, and keeps lines in their register.
   */
  semitone: 0.1,
} as const;

/**
 * What it asks to reach the notes of a tune, string by string, in the same unit. Steel players bend and slide
 * what rings before they strike anew (common practice of the trade): pressing a control counts one and a quarter
 * altogether, a slide of a fret or two a little more than one and a half, a stroke on another string 1.7.
 */
export const REACH_WEIGHTS = {
  /** Whatever is picked together is one stroke; it begins the sound anew, which breaks the voice of the steel. */
  stroke: 1.5,
  /** Each picked string that the hand was not at before; the same as for chords. */
  string: MOVE_WEIGHTS.string,
  /** A bar that slides is heard all the way, and has to stop in tune: a little dearer than a pull's own stop. */
  slide: 0.4,
  /** For each fret beyond two: what lies between is heard as a smear. */
  slidePerFret: 0.4,
  slideBeyond: 2,
  /** Farther the strings are blocked and struck anew. In frets. */
  slideMost: 4,
  /**
   * For each semitone beyond two: so wide a bend is an effect and no step of a tune, and mostly one control is
   * let go for another. A minor third is bent only where a stroke would be dearer than both.
   */
  pullPerSemitone: 1,
  pullBeyond: 2,
  /**
   * For each finger that is asked twice within so many seconds: the thumb and two fingers are three, so a
   * string that has just been taken, and a fourth string, have to wait for one of them.
   */
  sameFinger: 0.8,
  quick: 0.15,
  fingers: 3,
  /** The bar leaves a chord that should ring on under the tune, and has to come back to it. */
  leavesChord: 1,
  /** A note of the tune that lasts is struck again, because the chord under it changes; it is not written so. */
  restruck: 2,
} as const;

/** What a place costs beside the reach, where a whole piece is played and the player lives in it. */
export const PLACE_WEIGHTS = {
  /**
   * For each fret beyond the twelfth: tone and sustain thin out, a bar that is off by a millimetre is off by
   * twice as many cents as at the nut, and no chord asks for it. Three frets are as dear as half a pedal.
   */
  high: 0.1,
} as const;

/** What a wish about grips adds to the effort of a voicing that goes against it. */
export const GRIP_WEIGHTS = {
  /** As much as a string skipped and a strange shape together: only a clear gain outweighs it. */
  notPreferred: 1.5,
  avoided: 3,
} as const;

/**
 * How much each part of a whole way counts: what is held, and the moves. Of clarity only what rubs or lies
 * too low is among them: what one chord lacks sounds in its neighbours.
 */
export interface WayBalance extends Balance {
  /** Voice leading. */
  readonly voices: number;
}

/** The weights as they stand, for a whole way. */
export const EVEN_WAY: WayBalance = { ...EVEN, voices: 1 };

/** The parts of a whole way that a player can shift against one another. */
export type WayPart = Part | 'voices';

/** One named piece of a move. */
export interface MoveTerm {
  readonly part: WayPart;
  readonly name: string;
  readonly value: number;
}
