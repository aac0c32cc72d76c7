/**
 * Which string breaks first by wear. A string at the changer is bent anew by every pull: the finger
 * turns, and the wire at its edge goes from straight to round and back. A crack grows by that from the
 * outside inward until what is left of the section no longer bears the tension. So three things count:
 * how much of the wire the highest raise leaves over, how hard each pull works it, and how many pulls
 * there are. What comes out ranks strings against each other; it is no number of days.
 */
import type { Pull, Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { prettyPitch } from '$lib/theory/display';
import { stringLoads, type Load, type StringLoad } from './loads';
import { wireMm } from './rigging';
import { stretchMm, tensionFactor } from './tension';
import { USUAL_FINGER_RADIUS_MM } from './usualRig';
import type { Wire } from './wire';
import { MM_PER_INCH } from './wireData';

/**
 * How fast a crack grows with the range of stress: with its third power (Paris and Erdogan 1963, da/dN =
 * C·ΔK^m). For steel in air the Probabilistic Model Code of the Joint Committee on Structural Safety gives 2.88
 * beyond the threshold, and 3 for the slope of an S–N curve (part 3, fatigue, its table of variables:
 * https://github.com/JCSS-PMC/PMC/blob/1e39615d747c22e54d8e9627325299e0a54997aa/part-03/fatigue.md). Those are
 * structural steels; that it is 3.0 for ferritic-pearlitic steel, which drawn music wire is, is from memory:
 * Shigley’s Mechanical Engineering Design, table 6–1, after Barsom and Rolfe. No published S–N curve of music
 * wire that is bent over a finger under tension was found. On E9 and the universal
 * twelve string 3 stays the first for every m from 2 to 4, so that the answer does not hang on it.
 */
export const CRACK_EXPONENT = 3;

const diameterMm = (wire: Wire): number => wire.coreInches * MM_PER_INCH;

/** Strain at the outside of a wire bent round a finger: d/(2R + d), from lengths of arc alone. */
export const bendingStrain = (wire: Wire, radiusMm: number): number =>
  diameterMm(wire) / (2 * radiusMm + diameterMm(wire));

/**
 * Stress of that strain in MPa as if the wire sprang back wholly: E·d/(2R), to the first order
 * (beams: M/I = E/R), which handbooks of wire rope write E·d/D over a sheave of diameter D (from memory; that a
 * larger sheave lets rope last longer, and by how much: a table of relative bending life by D/d,
 * https://www.mazzellacompanies.com/Catalog/Wire-Rope/How-Sheave-Size-Affects-Wire-Rope-Strength). It may lie above the wire’s strength: then the outside has taken a set, and only
 * the range between straight and bent is elastic again.
 */
export const bendingStressMpa = (wire: Wire, radiusMm: number): number =>
  (wire.modulusMpa * diameterMm(wire)) / (2 * radiusMm);

/**
 * Millimetres over which a stiff wire under tension leaves the finger’s curve: √(EI/T), with
 * I = πd⁴/64. The curvature falls as e^(−x/λ), which solves EI·y⁗ = T·y″.
 */
export const leavingMm = (wire: Wire, tensionN: number): number =>
  Math.sqrt((wire.modulusMpa * Math.PI * diameterMm(wire) ** 4) / 64 / tensionN);

/** One pull as the wire at the finger feels it. */
export interface PullWear {
  readonly control: string;
  /**
   * Range of stress over the wire’s least strength: of the bend that the finger lays on or takes off,
   * and of the tension. A pull shorter than the wire’s leaving length lays on only part of the bend:
   * 1 − e^(−ΔL/λ).
   */
  readonly range: number;
  /** How often against the other controls; 1 where the setup says nothing. */
  readonly uses: number;
}

/** A string among those that break first. */
export interface Wear {
  readonly neck: number;
  readonly string: number;
  /** 1 breaks first; over all necks. Strings that no control pulls come last. */
  readonly rank: number;
  /** Share of the wire that is left over at the highest raise, 0 where nothing is. */
  readonly reserve: number;
  readonly bendingStrain: number;
  readonly bendingStressMpa: number;
  /** In the order of the setup’s controls. */
  readonly pulls: readonly PullWear[];
  /** Pulls it bears against those that the first string bears; none where it is not pulled, or the first bears none. */
  readonly times?: number;
  readonly estimate: boolean;
  /** Why it stands there, for people. */
  readonly reason: string;
}

function pullWear(
  setup: Setup,
  { wire, tensionN }: Load,
  control: Setup['controls'][number],
  pull: Pull,
): PullWear {
  const radius = setup.fingerRadiusMm ?? USUAL_FINGER_RADIUS_MM;
  const change = tensionN * (tensionFactor(pull.semitones) - 1);
  const way = Math.abs(stretchMm(wire, wireMm(setup), change));
  const laidOn = 1 - Math.exp(-way / leavingMm(wire, tensionN));
  const bend = bendingStrain(wire, radius) * wire.modulusMpa * laidOn;
  return {
    control: control.id,
    range: (bend + Math.abs(change) / wire.areaMm2) / wire.strengthMpa,
    uses: control.usage ?? 1,
  };
}

/** Growth of a crack by all pulls together, in the unit of one pull over a range of 1. */
const growthOf = (pulls: readonly PullWear[]): number =>
  pulls.reduce((sum, { range, uses }) => sum + uses * range ** CRACK_EXPONENT, 0);

const percent = (share: number): string => `${Math.round(100 * share)} %`;

function reasonOf(
  setup: Setup,
  { neck, open, compass }: StringLoad,
  { shareTop, estimate }: Load,
  pulls: readonly PullWear[],
): string {
  const top = prettyPitch(tuningPitch(setup.necks[neck - 1], open.midi + compass.up));
  const where = compass.up > 0 ? `raised to ${top}` : 'open';
  const guess = estimate ? ' (an estimate)' : '';
  const left =
    shareTop >= 1
      ? `${where} nothing of its strength is left over${guess}`
      : `${where} it has ${percent(1 - shareTop)} of its strength left over${guess}`;
  const hardest = pulls.reduce<PullWear | undefined>(
    (most, each) => (most !== undefined && most.range >= each.range ? most : each),
    undefined,
  );
  if (hardest === undefined) return `No control pulls it; ${left}.`;
  const works = `${hardest.control} works it ${pulls.length > 1 ? 'hardest, ' : ''}by ${percent(hardest.range)} of its strength a pull`;
  const many =
    pulls.length === 1 ? 'only one control pulls it' : `${pulls.length} controls pull it`;
  return `${left.charAt(0).toUpperCase()}${left.slice(1)}; ${works}; ${many}.`;
}

/**
 * Every string with figures, the one that breaks first at the head. Those that no control pulls follow
 * by what the open string leaves over.
 */
export function wearOf(setup: Setup): Wear[] {
  const radius = setup.fingerRadiusMm ?? USUAL_FINGER_RADIUS_MM;
  const found = stringLoads(setup).flatMap((each) => {
    const { load, neck, string } = each;
    if (load === undefined) return [];
    const pulls = setup.controls.flatMap((control) =>
      control.pulls
        .filter((pull) => pull.neck === neck && pull.string === string)
        .map((pull) => pullWear(setup, load, control, pull)),
    );
    const reserve = Math.max(0, 1 - load.shareTop);
    return [{ each, load, pulls, reserve, life: reserve / growthOf(pulls) }];
  });
  // a string that nothing pulls has no growth: its life is endless, or, with nothing left over, none
  const sorted = found
    .map((one) => ({ ...one, life: one.reserve === 0 ? 0 : one.life }))
    .sort((a, b) => (a.life === b.life ? b.load.shareTop - a.load.shareTop : a.life - b.life));
  const first = sorted[0]?.life ?? 0;
  return sorted.map(({ each, load, pulls, reserve, life }, place): Wear => ({
    neck: each.neck,
    string: each.string,
    rank: place + 1,
    reserve,
    bendingStrain: bendingStrain(load.wire, radius),
    bendingStressMpa: bendingStressMpa(load.wire, radius),
    pulls,
    ...(Number.isFinite(life) && first > 0 ? { times: life / first } : {}),
    estimate: load.estimate,
    reason: reasonOf(setup, each, load, pulls),
  }));
}

/** What stands beside the ranking, once. */
export const WEAR_NOTE =
  'By wear, not by load alone: what the highest raise leaves of the wire’s strength, over how hard each pull bends it on the changer finger and how often; wear grows with the third power of that, as published for cracks in structural steel (no measurements of music wire were found). Unless you write them, the finger’s rounding is taken as 10 mm and every control as used alike (common practice, from memory). It ranks strings against each other and says nothing of days; a nick, a kink or rust breaks any string sooner.';
