/** What a string is made of: its mass, the steel that bears it, and what that steel stands. */
import { inchesText } from '$lib/setup/gaugeText';
import type { SetupString } from '$lib/setup/setup';
import {
  A228_LEAST_KSI,
  A228_MODULUS_GPA,
  MM_PER_INCH,
  MPA_PER_KSI,
  STEEL_DENSITY,
} from './wireData';

/** The steel of a string that bears the load: all of a plain one, the core of a wound one. */
export interface Wire {
  /** Diameter of the bearing steel in inches. */
  readonly coreInches: number;
  /** Cross-section of the bearing steel in mm². */
  readonly areaMm2: number;
  /** Kilograms a metre of string. */
  readonly massPerM: number;
  /** Least tensile strength in MPa (N/mm²). */
  readonly strengthMpa: number;
  /** Modulus of elasticity in MPa. */
  readonly modulusMpa: number;
  /** What was taken for granted, as a sentence; left out where nothing was. */
  readonly assumption?: string;
}

const [THINNEST] = A228_LEAST_KSI[0] ?? [0];
const [THICKEST] = A228_LEAST_KSI.at(-1) ?? [0];

/** Cross-section of round wire in mm². */
export const areaMm2 = (inches: number): number => (Math.PI / 4) * (inches * MM_PER_INCH) ** 2;

/** Least tensile strength in MPa, between two rows of the table in a straight line; outside it none. */
export function strengthMpa(inches: number): number | undefined {
  const after = A228_LEAST_KSI.findIndex(([row]) => row >= inches);
  const [thick, weak] = A228_LEAST_KSI[after] ?? [];
  if (thick === undefined || weak === undefined) return undefined;
  if (thick === inches) return weak * MPA_PER_KSI;
  const [thin, strong] = A228_LEAST_KSI[after - 1] ?? [];
  if (thin === undefined || strong === undefined) return undefined;
  return (strong + ((weak - strong) * (inches - thin)) / (thick - thin)) * MPA_PER_KSI;
}

/** Modulus of elasticity in MPa, by the diameter of the steel. */
export const modulusMpa = (inches: number): number =>
  1000 * (A228_MODULUS_GPA.find(([upTo]) => inches <= upTo)?.[1] ?? NaN);

/**
 * The core of a wound string whose core is not told: .010 inch and 17 hundredths of the gauge, which
 * gives .0144 under .026 and .022 under .070. Common practice of the trade, from memory; makers differ
 * by a thousandth or two either way.
 */
const usualCoreInches = (gauge: number): number => 0.01 + 0.17 * gauge;

/**
 * Mass of a wound string, kg/m: the core, and round wire wound on it closely, turn by turn. A turn of
 * wire w on core c is √((π(c + w))² + w²) long and takes w along the string.
 */
export function woundMassPerM(gauge: number, core: number): number {
  const wrap = (gauge - core) / 2;
  const turn = Math.hypot(Math.PI * (core + wrap), wrap) / wrap;
  return STEEL_DENSITY * 1e-6 * (areaMm2(core) + areaMm2(wrap) * turn);
}

/** A wire, or the sentence that says why there are no figures for it. */
export type WireOrWhy = { readonly wire: Wire } | { readonly why: string };

/** The wire of a string of a setup. */
export function wireOf({ gauge, wound = false, coreGauge }: SetupString): WireOrWhy {
  if (gauge === undefined) return { why: 'No gauge is entered.' };
  const core = wound ? (coreGauge ?? usualCoreInches(gauge)) : gauge;
  if (wound && core >= gauge)
    return {
      why: `A core of ${inchesText(core)} inch leaves no room for a winding on a string of ${inchesText(gauge)}.`,
    };
  const strength = strengthMpa(core);
  if (strength === undefined)
    return {
      why: `The table of wire ends at ${inchesText(core < THINNEST ? THINNEST : THICKEST)} inch, and its ${wound ? 'core' : 'wire'} is ${inchesText(core)}.`,
    };
  const assumption = wound
    ? [
        ...(coreGauge === undefined
          ? [`its core is taken as ${inchesText(core)} inch, which is usual`]
          : []),
        'its winding is taken as round steel wire, wound closely',
      ].join('; ')
    : undefined;
  return {
    wire: {
      coreInches: core,
      areaMm2: areaMm2(core),
      massPerM: wound ? woundMassPerM(gauge, core) : STEEL_DENSITY * 1e-6 * areaMm2(gauge),
      strengthMpa: strength,
      modulusMpa: modulusMpa(core),
      ...(assumption === undefined ? {} : { assumption }),
    },
  };
}
