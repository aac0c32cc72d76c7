/** Which gauges would suit a string: those that meet a wanted tension and headroom at this scale. */
import { prettyPitch } from '$lib/theory/display';
import { inchesText } from '$lib/setup/gaugeText';
import type { Setup, SetupString } from '$lib/setup/setup';
import { compassOf, type Compass } from './compass';
import { loadOf, type Load } from './loads';

/** Gauges that strings are sold in, in inches (common practice; makers differ at the ends). */
const PLAIN_GAUGES: readonly number[] = [
  0.008, 0.0085, 0.009, 0.0095, 0.01, 0.0105, 0.011, 0.0115, 0.012, 0.0125, 0.013, 0.0135, 0.014,
  0.0145, 0.015, 0.016, 0.017, 0.018, 0.019, 0.02, 0.021, 0.022, 0.023, 0.024,
];
const WOUND_GAUGES: readonly number[] = [
  0.018, 0.02, 0.022, 0.024, 0.026, 0.028, 0.03, 0.032, 0.034, 0.036, 0.038, 0.04, 0.042, 0.044,
  0.046, 0.048, 0.05, 0.052, 0.054, 0.056, 0.058, 0.06, 0.062, 0.064, 0.066, 0.068, 0.07, 0.074,
  0.078, 0.08,
];

export interface WantedLoad {
  /** Newtons of the open string, least and most. */
  readonly tensionN: readonly [number, number];
  /** Semitones from the highest raise to breaking, least and most. */
  readonly headroomSemitones: readonly [number, number];
}

/**
 * Strings of everyday sets lie here (built-in setups: 88 to 158 N open). A semitone of headroom keeps
 * the highest raise below nine tenths of the wire's least strength.
 */
export const USUAL_LOAD: WantedLoad = { tensionN: [90, 150], headroomSemitones: [1, 24] };

export interface SuitingGauge {
  readonly gauge: number;
  readonly wound: boolean;
  readonly load: Load;
}

export interface GaugeAdvice {
  readonly neck: number;
  readonly string: number;
  /** Plain before wound, thin before thick. */
  readonly suiting: readonly SuitingGauge[];
  /** Why no gauge suits, as a sentence. */
  readonly none?: string;
}

const within = (value: number, [least, most]: readonly [number, number]): boolean =>
  value >= least && value <= most;

/** Why nothing suits. What a plain wire bears at a pitch hardly depends on its gauge. */
function noneText(
  tried: readonly SuitingGauge[],
  { headroomSemitones, tensionN }: WantedLoad,
): string {
  const inTension = tried.filter(({ load }) => within(load.tensionN, tensionN));
  if (inTension.length === 0)
    return 'No gauge gives this tension at this pitch and scale length; widen the tension wanted.';
  const most = Math.max(...inTension.map(({ load }) => load.headroomSemitones));
  return most < headroomSemitones[0]
    ? `No gauge has so much headroom at this tension: ${most.toFixed(1)} semitones are the most. A thinner wire hardly helps; a lower raise or a shorter scale does.`
    : 'No gauge meets both limits; widen one of them.';
}

/** Every gauge that suits one string. */
export function gaugesFor(
  setup: Setup,
  string: SetupString,
  compass: Compass,
  wanted: WantedLoad = USUAL_LOAD,
): Pick<GaugeAdvice, 'suiting' | 'none'> {
  const tried: SuitingGauge[] = [];
  for (const [gauges, wound] of [
    [PLAIN_GAUGES, false],
    [WOUND_GAUGES, true],
  ] as const)
    for (const gauge of gauges) {
      const found = loadOf(setup, { open: string.open, gauge, wound }, compass);
      if ('load' in found) tried.push({ gauge, wound, load: found.load });
    }
  const suiting = tried.filter(
    ({ load }) =>
      within(load.tensionN, wanted.tensionN) &&
      within(load.headroomSemitones, wanted.headroomSemitones),
  );
  return suiting.length > 0 ? { suiting } : { suiting, none: noneText(tried, wanted) };
}

/** Advice for every string, whether or not its own gauge is told. */
export const gaugeAdvice = (setup: Setup, wanted: WantedLoad = USUAL_LOAD): GaugeAdvice[] =>
  setup.necks.flatMap((neck, n) =>
    neck.strings.map((string, s) => ({
      neck: n + 1,
      string: s + 1,
      ...gaugesFor(setup, string, compassOf(setup, n + 1, s + 1), wanted),
    })),
  );

/**
 * A gauge farther than this share from every one that suits is more likely a slip of the fingers than a
 * choice: neighbours in a set differ by about as much (common practice, from memory).
 */
const UNLIKELY = 0.2;

/**
 * Why the gauge of a string is unlikely, as a sentence; `undefined` where it is not, where none is told,
 * or where no gauge suits at all. Strings and necks are counted from 1.
 */
export function unlikelyGauge(setup: Setup, neck: number, string: number): string | undefined {
  const strung = setup.necks[neck - 1]?.strings[string - 1];
  const gauge = strung?.gauge;
  if (strung === undefined || gauge === undefined) return undefined;
  const { suiting } = gaugesFor(setup, strung, compassOf(setup, neck, string));
  if (suiting.length === 0) return undefined;
  if (suiting.some((each) => Math.abs(gauge - each.gauge) <= UNLIKELY * each.gauge))
    return undefined;
  const sizes = suiting.map((each) => each.gauge);
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)].map(inchesText);
  const suits = least === most ? least : `${least} to ${most}`;
  return `${inchesText(gauge)} is far from what suits ${prettyPitch(strung.open)} here (${suits}).`;
}
