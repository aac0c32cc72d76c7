/** What a setup file may say in numbers, and what holds where it says nothing. */

/** Bounds of the file's numbers, in one place for the validator, the schema and the sentences. */
export const BOUNDS = {
  necks: [1, 3],
  strings: [1, 14],
  controls: [0, 20],
  /** In one control: one a string, on every neck. */
  pulls: [0, 42],
  frets: [0, 36],
  scaleLengthMm: [200, 1500],
  deadLengthMm: [0, 600],
  fingerRadiusMm: [2, 50],
  referenceHz: [300, 600],
  pedalsAtOnce: [1, 4],
  /** Combinations switched off, or allowed against the rules. */
  exceptions: [0, 100],
  /** Controls of a combination that is switched off; of one that is allowed: one alone needs no leave. */
  never: [1, 20],
  also: [2, 20],
  semitones: [-7, 7],
  gauge: [0.004, 0.15],
  cents: [-100, 100],
  leverage: [0.05, 50],
  travelMm: [1, 200],
  forceN: [0.1, 500],
  springN: [0, 200],
  slackMm: [0, 100],
  /** Holes of a finger, or of a bell crank. */
  holes: [1, 12],
  /** Rods that a finger takes. */
  rods: [0, 12],
  holeMm: [2, 80],
  shaftDepthMm: [-50, 100],
  shaftThickMm: [0, 30],
  rodMm: [0.5, 10],
  shaftMm: [20, 900],
  turnDegrees: [0.5, 60],
  usage: [0, 100],
  /** In one control: one a string, on every neck. */
  drops: [0, 42],
  dropCents: [-50, 50],
  name: [1, 200],
  id: [1, 8],
  notes: [0, 20_000],
  /** C0 to C8: pitches that an instrument can have. */
  openMidi: [12, 108],
} as const;

/** What a file means where it leaves something out. */
export const DEFAULTS = {
  frets: 24,
  scaleLengthMm: 610,
  referenceHz: 440,
  reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
} as const;
