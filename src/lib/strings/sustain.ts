/**
 * How long a struck string rings: seconds in which its fundamental falls by 60 dB, by string (its wire)
 * and by fret (the pitch that the wire sounds there).
 *
 * Three losses add up:
 *
 * - The air. A cylinder of diameter d that swings f times a second meets the resistance
 *   R = 2πη + 2πd·√(πηρf) a metre of its length (Stokes 1851; so in Valette and Cuesta, "Mécanique de la
 *   corde vibrante", 1993, and in Fletcher and Rossing, "The Physics of Musical Instruments", 2nd ed.,
 *   2.12). A string of μ kilograms a metre loses amplitude by e^(−Rt/2μ).
 * - The wire, which gives away a share of its energy in every swing: e^(−πfδt), a loss that grows with
 *   frequency in a straight line, as Christian, "Parameter Estimation of Multiple Non-Linear Damping Sources
 *   in Guitar Strings" (Savart Journal 1, 2011), measured in a vacuum, where windings that rub on one another
 *   were the most of what remained. The sizes of δ, 0.0002 for plain steel and 0.0004 where a winding rubs
 *   on a core, are from memory: no table of them was found.
 * - The ends: changer, nut, and the hand on the bar. That what is left beside the string's own losses is what the
 *   neck takes, and that the pickup takes nothing, was measured on solid-body guitars (Paté, Le Carrou and Fabre,
 *   "Predicting the decay time of solid body electric guitar tones", 2014, https://hal.science/hal-01461740).
 *   The figure is from memory: hardly a string of a solid instrument rings longer than 30 to 40 s, however heavy
 *   it is.
 *
 * No measurement of a pedal steel was at hand. What comes out agrees with what is remembered of
 * solid-body guitars, whose open strings fall by 60 dB in about 8 to 30 s.
 */
import { hzOf } from '$lib/theory/pitch';
import type { Setup, SetupString } from '$lib/setup/setup';
import { MM_PER_INCH, STEEL_DENSITY } from './wireData';
import { wireOf } from './wire';

/** Of air at 20 °C: kilograms a metre and second, kilograms a cubic metre. */
const AIR = { viscosity: 1.8e-5, density: 1.2 } as const;
/** Share of its energy that a swing costs inside the wire, over 2π; between both where nothing is told. */
const INSIDE = { plain: 2e-4, wound: 4e-4, untold: 3e-4 } as const;
/** Seconds in which the ends alone would bring a string down by 60 dB. */
const ENDS = 40;
/** Amplitude falls by 60 dB, to a thousandth. */
const FALL_60 = Math.log(1000);
/** The tension (N) of a usual string, its sounding length (mm), and the thinnest there is (mm; .011 inch). */
const USUAL = { tension: 125, lengthMm: 610, thinnestMm: 0.28 } as const;

/** What a string's ringing depends on. */
export interface Swinging {
  readonly diameterMm: number;
  readonly massPerM: number;
  readonly make: keyof typeof INSIDE;
}

/** Seconds in which the fundamental falls by 60 dB. */
export function fallSeconds({ diameterMm, massPerM, make }: Swinging, hz: number): number {
  const { viscosity, density } = AIR;
  const d = diameterMm / 1000;
  const resistance =
    2 * Math.PI * viscosity + 2 * Math.PI * d * Math.sqrt(Math.PI * viscosity * density * hz);
  const air = resistance / (2 * massPerM);
  const inside = Math.PI * hz * INSIDE[make];
  return FALL_60 / (air + inside + FALL_60 / ENDS);
}

/** The string that is usual for an open pitch: steel that has the usual tension there (Mersenne). */
function usualString(openHz: number, lengthMm: number = USUAL.lengthMm): Swinging {
  const { tension, thinnestMm } = USUAL;
  const area = tension / STEEL_DENSITY / ((2 * lengthMm * openHz) / 1000) ** 2;
  const diameterMm = Math.max(thinnestMm, 1000 * Math.sqrt((4 * area) / Math.PI));
  return {
    diameterMm,
    massPerM: STEEL_DENSITY * 1e-6 * (Math.PI / 4) * diameterMm ** 2,
    make: 'untold',
  };
}

function swinging(string: SetupString, openHz: number, lengthMm: number): Swinging {
  const found = wireOf(string);
  if (string.gauge === undefined || 'why' in found) return usualString(openHz, lengthMm);
  return {
    diameterMm: string.gauge * MM_PER_INCH,
    massPerM: found.wire.massPerM,
    make: string.wound ? 'wound' : 'plain',
  };
}

/** The same for a string of a setup, from 1, at a pitch in semitones. */
export function fallOf(setup: Setup, neck: number, string: number, midi: number): number {
  const { referenceHz, scaleLengthMm } = setup;
  const played = setup.necks[neck - 1]?.strings[string - 1];
  if (played === undefined) throw new Error(`no string ${string} on neck ${neck}`);
  const openHz = hzOf(played.open.midi, referenceHz);
  return fallSeconds(swinging(played, openHz, scaleLengthMm), hzOf(midi, referenceHz));
}

/** Where nothing is known of the string but what it sounds, it is taken as open. */
export const usualFall = (hz: number): number => fallSeconds(usualString(hz), hz);

/** The power by which a string falls sooner the higher it is stopped: what the law above comes to on E9. */
export const SOONER = 0.54;

/** Pitches of strings of one neck, with the seconds in which each falls by 60 dB. */
export const withFalls = <T extends { readonly string: number; readonly midi: number }>(
  setup: Setup,
  neck: number,
  pitches: readonly T[],
): (T & { readonly falls: number })[] =>
  pitches.map((pitch) => ({ ...pitch, falls: fallOf(setup, neck, pitch.string, pitch.midi) }));
