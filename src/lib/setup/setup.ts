/**
 * A setup as the rest of the program knows it: checked, complete, read-only. It comes from a file
 * through `readSetup` and from nowhere else. Strings are numbered as players number them, string 1
 * farthest from the player; necks from 1.
 */
import type { Midi, Pitch } from '$lib/theory/pitch';

/** The stations of pedals, left to right. */
export const PEDALS = [
  'P1',
  'P2',
  'P3',
  'P4',
  'P5',
  'P6',
  'P7',
  'P8',
  'P9',
  'P10',
  'P11',
  'P12',
] as const;
/** The stations of the left knee: pushed to the left, up, to the right. */
export const LEFT_KNEE = ['LKL', 'LKV', 'LKR'] as const;
/** The stations of the right knee: pushed to the left, up, to the right. */
export const RIGHT_KNEE = ['RKL', 'RKV', 'RKR'] as const;
/** A second bank of levers for the left knee, before or behind the first: the knee slides to it. */
export const LEFT_KNEE_2 = ['LKL2', 'LKV2', 'LKR2'] as const;
/** The same for the right knee. */
export const RIGHT_KNEE_2 = ['RKL2', 'RKV2', 'RKR2'] as const;
/** Levers that the picking hand works: one by its wrist, two by its palm, as on lap steels. */
export const HAND = ['WRIST', 'PALM1', 'PALM2'] as const;
/** Every station, left to right as the player sits, then those of the hand. */
export const STATIONS = [
  ...PEDALS,
  ...LEFT_KNEE,
  ...LEFT_KNEE_2,
  ...RIGHT_KNEE,
  ...RIGHT_KNEE_2,
  ...HAND,
] as const;

export type PedalStation = (typeof PEDALS)[number];
export type HandStation = (typeof HAND)[number];
export type Station = (typeof STATIONS)[number];
export type KneeStation = Exclude<Station, PedalStation | HandStation>;

export interface SetupString {
  readonly open: Pitch;
  /** Diameter in inches. */
  readonly gauge?: number;
  readonly wound?: boolean;
  /** Diameter of a wound string's core in inches. */
  readonly coreGauge?: number;
  /** Tuning target as an offset from equal temperament. */
  readonly cents?: number;
  /** The holes of this string's finger for raising rods, where it differs: millimetres from the axle. */
  readonly raiseHolesMm?: readonly number[];
  /** The same for its lowering rods. */
  readonly lowerHolesMm?: readonly number[];
  readonly notes?: string;
}

export interface Neck {
  readonly name: string;
  readonly strings: readonly SetupString[];
  readonly notes?: string;
}

/** One control moving one string. */
export interface Pull {
  /** 1 is the first neck. */
  readonly neck: number;
  readonly string: number;
  /** −7 … 7, never 0: a raise or a lower. */
  readonly semitones: number;
  /** Where the half-stop is: the same direction, a smaller distance. */
  readonly half?: number;
  readonly cents?: number;
  /** Tuning target of the half-stop as an offset from equal temperament. */
  readonly halfCents?: number;
  /** Tuning target of the split that this lower makes with a raise; only a split stop can be set to it. */
  readonly splitCents?: number;
  /** Millimetres that the rod moves for each millimetre that the string is stretched or slackened. */
  readonly leverage?: number;
  /** Which hole of the changer finger the rod is hooked into today, from 1, the first of the holes told. */
  readonly hole?: number;
  /** Which hole of its bell crank the rod starts from today, from 1. */
  readonly crank?: number;
  readonly notes?: string;
}

/** What a control does to a string that it does not pull: the loaded body lets it fall. */
export interface Drop {
  /** 1 is the first neck. */
  readonly neck: number;
  readonly string: number;
  /** By how much it falls, as measured with the control all the way; negative where it rises. */
  readonly cents: number;
}

export interface Control {
  readonly id: string;
  readonly station: Station;
  readonly pulls: readonly Pull[];
  /** Way of the pedal or lever, in millimetres where foot or knee pushes. */
  readonly travelMm?: number;
  /** Mean force measured where foot, knee or hand pushes, in newtons. */
  readonly forceN?: number;
  /** Mean force that the return spring asks there by itself, with no string hooked up, in newtons. */
  readonly springN?: number;
  /** Travel before the first string moves, in millimetres. */
  readonly slackMm?: number;
  /** From the changer's axle to the control's cross shaft along the neck, in millimetres. */
  readonly shaftMm?: number;
  /** Degrees that the cross shaft turns from rest to the stop, as the stop is set. */
  readonly turnDegrees?: number;
  /** Degrees that it turns at most, with the stop let out. */
  readonly mostTurnDegrees?: number;
  /** How often it is used against the other controls; 1 where nothing is said. */
  readonly usage?: number;
  readonly drops?: readonly Drop[];
  readonly notes?: string;
}

/** What the changer of an all-pull instrument has for rods. Whatever is left out is not told. */
export interface Changer {
  /** Raising rods that one finger takes; as many as there are holes where those are told. */
  readonly raises?: number;
  /** Lowering rods that one finger takes. */
  readonly lowers?: number;
  /** The holes of a finger for raising rods: millimetres from the axle. */
  readonly raiseHolesMm?: readonly number[];
  /** The holes of a finger for lowering rods. */
  readonly lowerHolesMm?: readonly number[];
  /** The holes of a bell crank: millimetres from the middle of the cross shaft. */
  readonly crankHolesMm?: readonly number[];
  /** How far the cross shafts lie below the changer's axle, in millimetres. */
  readonly shaftDepthMm?: number;
  /** How thick a cross shaft is, in millimetres. */
  readonly shaftThickMm?: number;
  /** How thick a rod is, in millimetres. */
  readonly rodMm?: number;
}

/** What the player's legs and picking hand can do at once. */
export interface Reach {
  /** 1 … 4 neighbouring pedals. */
  readonly pedalsAtOnce: number;
  readonly kneeUpWithSideways: boolean;
  /** Sets of control ids that are never engaged together, though the rules allow it. */
  readonly never?: readonly (readonly string[])[];
  /** Sets of control ids that can be engaged together, though the rules forbid it. */
  readonly also?: readonly (readonly string[])[];
}

export interface Setup {
  readonly name: string;
  readonly notes?: string;
  /** The highest fret, 0 … 36. */
  readonly frets: number;
  readonly scaleLengthMm: number;
  /** Wire beyond nut and bridge that stretches along, in millimetres. */
  readonly deadLengthMm?: number;
  /** Radius of the changer finger that the strings bend over, in millimetres. */
  readonly fingerRadiusMm?: number;
  readonly referenceHz: number;
  /**
   * The changer has split stops: where a full raise and a full lower pull one string, a screw of its own
   * tunes them; one a lower, with one raise. A split in which a half-stop or another raise takes part has
   * no screw: it lies where the other stops leave it (`stretch.ts`).
   */
  readonly splitStops?: boolean;
  readonly changer?: Changer;
  readonly reach: Reach;
  readonly necks: readonly Neck[];
  readonly controls: readonly Control[];
}

/** A half-stop counts as a state of its own. */
export type ControlState = 'half' | 'full';

export interface Engaged {
  readonly id: string;
  readonly state: ControlState;
}

/** A control has a half state when at least one of its pulls says where that is. */
export const hasHalf = (control: Control): boolean =>
  control.pulls.some((pull) => pull.half !== undefined);

/** The semitones by which a pull moves its string in a state; a pull without a half-stop rests at half. */
export const pullIn = (pull: Pull, state: ControlState): number =>
  state === 'full' ? pull.semitones : (pull.half ?? 0);

/** Is a station that of a pedal, and not of a lever? */
export const isPedal = (station: Station): station is PedalStation =>
  (PEDALS as readonly Station[]).includes(station);

/** Is a station that of a lever which the picking hand works? */
export const isHand = (station: Station): station is HandStation =>
  (HAND as readonly Station[]).includes(station);

/** The ways that a knee goes. */
export type KneeWay = 'left' | 'up' | 'right';

const WAYS: Readonly<Record<string, KneeWay>> = { L: 'left', V: 'up', R: 'right' };

/** Which way the knee goes to its lever, and in which of its banks that hangs. */
export function kneeLever(station: KneeStation): { readonly way: KneeWay; readonly bank: 1 | 2 } {
  const way = WAYS[station.charAt(2)];
  if (way === undefined) throw new Error(`${station} is no station of a knee`);
  return { way, bank: station.endsWith('2') ? 2 : 1 };
}

/** What works a control: a foot, a knee, or the picking hand. */
export type StationKind = 'pedal' | 'knee' | 'hand';

/** What works the control at a station. */
export const stationKind = (station: Station): StationKind =>
  isPedal(station) ? 'pedal' : isHand(station) ? 'hand' : 'knee';

/** 1 … 12, left to right. */
export const pedalNumber = (station: PedalStation): number => Number(station.slice(1));

/** Stretches along the neck: fret n lies at L · (1 − 2^(−n/12)) from the nut. */
export const fretMm = (fret: number, scaleLengthMm: number): number =>
  scaleLengthMm * (1 - 2 ** (-fret / 12));

/** The open pitches of a neck, string 1 first. */
export const openMidi = (neck: Neck): Midi[] => neck.strings.map((string) => string.open.midi);
