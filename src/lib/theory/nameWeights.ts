/**
 * What a name costs that fits a sound less than well. The cheapest name is the one that a musician
 * says first. All of it is common practice of harmony and jazz teaching, one reason a weight; the unit
 * is a tone that has to be added to a chord's name, which counts 4.
 */
export const NAME_WEIGHTS = {
  /** For each place in the list of chord types: what is met more often is thought of sooner. */
  rank: 0.02,
  /**
   * A type that is read and written but hardly heard names what it alone is, complete and over its
   * root; and then still after every plain reading of the same notes.
   */
  rare: 3.8,

  /** Third and seventh make a chord, the fifth adds nothing to them. */
  fifth: 0.6,
  /** A six nine chord has no seventh, but two colours that say as much. */
  fifthUnderSixNine: 0.8,
  /** Without the fifth, and but over a dominant, a raised eleventh may be the tone of another chord. */
  fifthUnderSharpEleven: 1.2,
  /** A triad has little else. */
  fifthOfTriad: 2,
  /** The stack below an eleventh or thirteenth is understood. */
  innerExtension: 0.5,
  /** Major or minor is what one hears first; without it the chord is open. */
  third: 3.5,
  /** With neither third nor fifth a root is hardly one. */
  thirdAndFifth: 3,

  /** Third and seventh of a dominant are a tritone, which points to the root that does not sound. */
  rootOfDominant: 2.2,
  /** Other chords without their root are another chord. */
  rootOfOthers: 4.8,
  /** Where the instrument lies on the chord's root the player has it in mind. */
  rootInMind: 0.5,
  /** Of names that fit as well, such as a tritone's two, the one whose root he has in mind goes first. */
  homeOfEquals: 0.06,
  /** An altered tone is heard against the root. */
  alteredWithoutRoot: 1.5,
  /** Two notes are third and fifth of a triad, a major one first. */
  rootOfTwoNotes: 2.2,
  minorRootOfTwoNotes: 3.2,

  /** A sixth chord is heard over its root; turned over, it is the seventh chord on its sixth. */
  sixthTurned: 0.2,

  /** Every tone that is no tone of the chord. */
  added: 4,

  /** A third or fifth in the bass turns the chord over and leaves it what it is. */
  inversion: 1,
  /** A seventh in the bass leads on, and is heard as an inversion a little less. */
  seventhInBass: 1.05,
  /** A tuning is called by its sixth: whoever lies on all four of its tones says that, also turned over. */
  sixthAtHome: 0.5,
  /** A sixth in the bass is the root of a seventh chord. */
  sixthInBass: 2.5,
  /** A ninth, eleventh or thirteenth in the bass is no colour any more. */
  extensionInBass: 3,
  /** A suspension is heard over its root; turned over it is another one. */
  suspensionTurned: 4,
  /**
   * A chord with a sixth, a seventh or more colours and some tones missing is turned over only where it is a
   * dominant and its third or fifth sounds; else the bass is taken for the root.
   */
  partialTurned: 3.5,

  /** A triad over the tone or the fourth above its root: the common pedals. */
  pedalUnderTriad: 0.5,
  /** Any other foreign bass under a major or minor triad is said by a slash. */
  bassUnderTriad: 3.4,
  /** So it is under another whole chord with a third, whose sound it troubles more. */
  bassUnderChord: 4,
  /** A foreign bass under a chord that is not whole itself, or open. */
  bassUnderPartial: 6.5,
} as const;
