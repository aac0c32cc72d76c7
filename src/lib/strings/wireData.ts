/**
 * Facts about steel wire, and nothing else.
 */

/**
 * Least tensile strength of music wire by diameter: inches, thousand pounds per square inch.
 *
 * Source: the tensile table of ASTM A228 as a wire supplier prints it (interwiregroup.com, page on
 * tinned music wire). Of the two columns there, least and most, this is the least: a wire that is in
 * order is no weaker.
 */
export const A228_LEAST_KSI: readonly (readonly [inches: number, ksi: number])[] = [
  [0.004, 439],
  [0.005, 426],
  [0.006, 415],
  [0.007, 407],
  [0.008, 399],
  [0.009, 393],
  [0.01, 387],
  [0.011, 382],
  [0.012, 377],
  [0.013, 373],
  [0.014, 369],
  [0.015, 365],
  [0.016, 362],
  [0.018, 356],
  [0.02, 350],
  [0.022, 345],
  [0.024, 341],
  [0.026, 337],
  [0.028, 333],
  [0.03, 330],
  [0.032, 327],
  [0.034, 324],
  [0.036, 321],
  [0.038, 318],
  [0.04, 315],
  [0.042, 313],
  [0.045, 309],
  [0.048, 306],
  [0.051, 303],
  [0.055, 300],
  [0.059, 296],
  [0.063, 293],
  [0.067, 290],
  [0.072, 287],
  [0.076, 284],
  [0.08, 282],
];

/**
 * Modulus of elasticity of A228 wire in tension, up to a diameter in inches, in gigapascals. Source:
 * Shigley's Mechanical Engineering Design, table 10–5 (29.5, 29.0, 28.5, 28.0 million psi).
 */
export const A228_MODULUS_GPA: readonly (readonly [upToInches: number, gpa: number])[] = [
  [0.032, 203.4],
  [0.063, 200],
  [0.125, 196.5],
  [Infinity, 193],
];

/** Density of steel in kg/m³: the given value of textbooks (Young & Freedman), 0.2836 lb/in³. */
export const STEEL_DENSITY = 7850;

/** Expansion of A228 by heat, a kelvin. Source: makeitfrom.com, ASTM A228. */
export const STEEL_EXPANSION = 12e-6;

/** Exact, as the inch is defined. */
export const MM_PER_INCH = 25.4;
/** A thousand pounds-force on a square inch, in N/mm²: 4448.2216152605 / 25.4². */
export const MPA_PER_KSI = 6.894757293168;
