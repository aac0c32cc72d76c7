/** What a way costs whose candidates are chosen: the least over all that may stay engaged, and what stays so. */
import type { WaysQuestion } from './bestWays';
import { NEVER, changedBits, idleAt, semitonesBetween, type Coded } from './moveCosts';
import type { Stage } from './stage';

/** A way as it is held. */
export interface HeldWay {
  /** In thousandths. */
  readonly cost: number;
  /** By stage: the control that stays although nothing needs it; empty where none does. */
  readonly idle: readonly string[];
}

/** A position in which something may stay, come to for so much. */
interface State {
  readonly held: number;
  readonly so: number;
  readonly from: State | undefined;
}

/** Is what stays at a position engaged at the one before it, under the same bar? */
export function canStay(from: Coded, position: number, to: Coded, goal: number): boolean {
  const idle = to.idle[goal] as number;
  if (idle < 0) return true;
  if (from.bar[position] !== to.bar[goal]) return false;
  return from.idle[position] === idle || (from.controls[position]?.includes(idle) ?? false);
}

/** What going from one candidate to the next costs beside bar and feet; both by their numbers in the stages. */
function betweenCandidates(
  { costs, joints }: WaysQuestion,
  before: number,
  [from, one]: readonly [Stage, number],
  [to, other]: readonly [Stage, number],
): number {
  const joint = joints?.[before];
  if (joint !== undefined) return joint.price(from.same[one] as number, to.same[other] as number);
  const neck = ({ layer }: Stage, candidate: number) =>
    layer.positions[layer.position[candidate] as number]?.neck;
  const changed = changedBits(
    from.layer.grip[one] as number,
    to.layer.grip[other] as number,
    neck(from, one) === neck(to, other),
  );
  const semitones = semitonesBetween(from.layer, one, to.layer, other);
  return (costs.picking[changed] as number) + (costs.voices[semitones] as number);
}

/**
 * A way in the order of playing as it is held; of what costs the same, what lets go.
 *
 * @param candidates by stage, by their numbers in the whole layers; each is left in its stage
 */
export function asHeld(question: WaysQuestion, candidates: ArrayLike<number>): HeldWay {
  const { stages, costs, times, home } = question;
  let states: State[] = [];
  let before: readonly [Stage, number] | undefined;
  stages.forEach((stage, at) => {
    const candidate = stage.same.indexOf(candidates[at] as number);
    const position = stage.layer.position[candidate] as number;
    const effort = stage.effort[candidate] as number;
    if (before === undefined) {
      const so = costs.arrival(stage.layer.positions[position] as Stage['held'][number], home);
      states = [{ held: position, so: so + effort, from: undefined }];
    } else {
      const here = [
        position,
        ...(stage.staying[position] ?? []).filter((held) =>
          stage.members[held]?.includes(candidate),
        ),
      ];
      const move = betweenCandidates(question, at - 1, before, [stage, candidate]);
      const [from, to] = [costs.codesOf(before[0]), costs.codesOf(stage)];
      const prices = new Int32Array(stage.held.length);
      const least = new Map<number, State>();
      for (const state of states) {
        const { held } = state;
        costs.pricesTo(from, held, to, here, here.length, times[at - 1] ?? 1, prices);
        for (const goal of here) {
          if (!canStay(from, held, to, goal)) continue;
          const so = state.so + (prices[goal] as number) + move + effort;
          if (so < (least.get(goal)?.so ?? NEVER)) least.set(goal, { held: goal, so, from: state });
        }
      }
      states = here.flatMap((held) => least.get(held) ?? []);
    }
    before = [stage, candidate];
  });
  const best = states.reduce((one, other) => (other.so < one.so ? other : one));
  const idle: string[] = [];
  let state: State | undefined = best;
  for (let at = stages.length - 1; state !== undefined; at--, state = state.from)
    idle[at] = stages[at]?.held[state.held]?.idle ?? '';
  return { cost: best.so, idle };
}

/** The places of the bar at which a control is engaged, as `idleAt`. */
export function engagedAt({ controls, bar, idle }: Coded, positions: Iterable<number>) {
  const places = new Set<number>();
  for (const position of positions) {
    const own = bar[position] as number;
    for (const control of controls[position] ?? []) places.add(idleAt(own, control));
    const stays = idle[position] as number;
    if (stays >= 0) places.add(idleAt(own, stays));
  }
  return places;
}
