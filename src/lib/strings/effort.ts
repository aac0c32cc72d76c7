/**
 * The mean force that a control asks of foot, knee or hand, as a sum of named terms: what the strings
 * need, what the return spring needs, what slack and friction add.
 */
import { unitSign } from './fieldUnits';
import { NEWTONS_A_POUND, type Units } from './units';
import { stationKind, type Control } from '$lib/setup/setup';
import { USUAL_FRICTION, USUAL_SLACK_SHARE, USUAL_SPRING_N } from './usualRig';

/** The terms that a setup may tell itself; else they are as instruments usually have them. */
const RIG_TERMS = ['slack', 'springs', 'friction'] as const;
/** One of them. */
export type RigTerm = (typeof RIG_TERMS)[number];

/** Newtons at foot, knee or hand; terms whose sum is `sumN`. */
export interface EffortTerms {
  /** The strings' share: the work on them over the whole travel. */
  readonly stringsN: number;
  /** What the slack adds: the same work has only the rest of the travel. */
  readonly slackN: number;
  /** The control's own return spring. */
  readonly springsN: number;
  /** Share `USUAL_FRICTION` of the three. */
  readonly frictionN: number;
  readonly sumN: number;
  /** Terms counted with usual values, since the setup does not tell them. */
  readonly usual: readonly RigTerm[];
}

/** The mean force of a control. */
export interface Effort {
  /** As measured where the setup tells it, else the sum of the terms. */
  readonly totalN: number;
  readonly measured: boolean;
  /** None where the travel is not known, or is no longer than the slack. */
  readonly terms?: EffortTerms;
}

/** The mean over the travel after the slack, for work on the strings in joules and a travel in mm. */
function termsOf(control: Control, workJ: number, travelMm: number): EffortTerms | undefined {
  const slackMm = control.slackMm ?? USUAL_SLACK_SHARE * travelMm;
  if (slackMm >= travelMm) return undefined;
  const stringsN = (1000 * workJ) / travelMm;
  const slackN = (1000 * workJ) / (travelMm - slackMm) - stringsN;
  const springsN = control.springN ?? USUAL_SPRING_N[stationKind(control.station)];
  const frictionN = USUAL_FRICTION * (stringsN + slackN + springsN);
  const told: Readonly<Record<RigTerm, boolean>> = {
    slack: control.slackMm !== undefined,
    springs: control.springN !== undefined,
    friction: false,
  };
  return {
    stringsN,
    slackN,
    springsN,
    frictionN,
    sumN: stringsN + slackN + springsN + frictionN,
    usual: RIG_TERMS.filter((term) => !told[term]),
  };
}

/** The effort of a control; none where neither its travel nor its force is known. */
export function effortOf(
  control: Control,
  workJ: number,
  travelMm: number | undefined,
): Effort | undefined {
  const terms = travelMm === undefined ? undefined : termsOf(control, workJ, travelMm);
  const totalN = control.forceN ?? terms?.sumN;
  if (totalN === undefined) return undefined;
  return {
    totalN,
    measured: control.forceN !== undefined,
    ...(terms === undefined ? {} : { terms }),
  };
}

/** A force at foot, knee or hand, without its unit: a pound has a decimal more, being four newtons and a half. */
const figureOf = (newtons: number, units: Units): string =>
  units === 'us' ? (newtons / NEWTONS_A_POUND).toFixed(2) : newtons.toFixed(1);

/** `15.0 N`, or `18.0 N measured`; `3.37 lb` in US units. */
export const effortText = ({ totalN, measured }: Effort, units: Units = 'metric'): string =>
  `${figureOf(totalN, units)} ${unitSign('force', units)}${measured ? ' measured' : ''}`;

/**
 * What it holds: `strings 4.5, slack 0.5, springs 7.0, friction 3.0`; beside a measured force what the
 * terms come to, `counted 15.0: strings …`. In newtons or pounds; empty where the terms are not known.
 */
export function effortHolds({ measured, terms }: Effort, units: Units = 'metric'): string {
  if (terms === undefined) return '';
  const { stringsN, slackN, springsN, frictionN, sumN } = terms;
  const parts = Object.entries({
    strings: stringsN,
    slack: slackN,
    springs: springsN,
    friction: frictionN,
  })
    .map(([name, newtons]) => `${name} ${figureOf(newtons, units)}`)
    .join(', ');
  return measured ? `counted ${figureOf(sumN, units)}: ${parts}` : parts;
}

/** What stands beside such figures, once: which of them are usual values and no measures. */
export const EFFORT_NOTE =
  'Mean effort is the force at foot, knee or hand over the travel after the slack: the strings’ share, what slack takes from the travel, the control’s return spring, and friction. Slack (a tenth of the travel), springs (7 N at a pedal, 5 N at a knee lever, 4 N at a hand lever) and friction (a quarter more) are values of common practice, no measures of your instrument, unless you write your own.';
