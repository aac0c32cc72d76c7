/**
 * A layer as a player comes to it: besides what a chord needs, one control that it does not need may stay
 * engaged from the chord before, as long as the bar stays too and no string that is picked is moved by it. It
 * costs nothing while it stays, and is there when it is needed again. A player who leads the bar elsewhere
 * lets go of what nothing needs.
 *
 * What stays so is nothing that anybody hears: a candidate is the same one whatever stays.
 */
import { controlCode } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import type { NeckCombinations } from '$lib/search/combinations';
import type { Bar } from '$lib/search/hold';
import type { Layer, Position } from '$lib/engine/layer';
import { narrowed } from '$lib/engine/narrowed';

/** A position with all that is engaged, and what of it is needed. */
export interface Held extends Position {
  /** What the chord needs; a way of its voicings. */
  readonly needs: Choice;
  /** The control that stays although nothing needs it, with its state; empty where none does. */
  readonly idle: string;
}

export type Necks = ReadonlyMap<number, NeckCombinations>;

/** The combinations of the necks that some indexes are of. */
export const necksOf = (indexes: ReadonlyMap<number, { readonly on: NeckCombinations }>): Necks =>
  new Map([...indexes].map(([neck, { on }]) => [neck, on]));

export interface Stage {
  readonly layer: Layer;
  /** The whole layer, of which this one may be a part. */
  readonly whole: Layer;
  readonly necks: Necks;
  /** By candidate, in thousandths: its effort without what is engaged, which is paid for on the way here. */
  readonly effort: Int32Array;
  /** The layer's positions in their order, then each of them with every control that can stay there. */
  readonly held: readonly Held[];
  /** By position: its candidates. */
  readonly members: readonly Int32Array[];
  /** By position of the layer: the positions in which something stays there. */
  readonly staying: readonly (readonly number[])[];
  /** By position: the same one where nothing stays. */
  readonly plainly: Int32Array;
  /** By candidate: its number in the whole layer, of which this one may be a part. */
  readonly same: Int32Array;
  /** By candidate: the number of its position in the whole layer. */
  readonly place: Int32Array;
}

/** Where the bar lies, as a number: neck 1 … 3, fret 0 … 36, slant −2 … 2. */
export const barCode = ({ neck, fret, slant }: Bar): number => (neck * 64 + fret) * 8 + slant + 2;

/** What of all that is engaged is not among what is needed. */
export const notNeeded = (engaged: Choice, needs: Choice): Choice =>
  engaged.filter(({ id }) => !needs.some((need) => need.id === id));

/** What may stay at the positions of a layer, and the positions with it. */
type Staying = Pick<Stage, 'held' | 'members' | 'staying' | 'plainly'>;

/** By place of the bar: the controls that may stay there, by `controlCode`. */
type Reached = ReadonlyMap<number, ReadonlySet<string>>;

/** What may stay at each position: all that its neck allows, or what is reached alone. */
function stayingAt({ layer, necks }: Pick<Stage, 'layer' | 'necks'>, reached?: Reached): Staying {
  // a position of a written chord says more than these, and keeps it
  const held: Held[] = layer.positions.map((position) => ({
    ...position,
    needs: position.engaged,
    idle: '',
  }));
  const plainly = layer.positions.map((_, at) => at);
  const members: Int32Array[] = [...layer.members];
  const staying = layer.positions.map((): number[] => []);
  const { grip } = layer;
  layer.positions.forEach(({ neck, fret, slant, engaged: needs, combination }, at) => {
    const here = reached?.get(barCode({ neck, fret, slant }));
    if (reached !== undefined && here === undefined) return;
    const on = necks.get(neck);
    const all = layer.members[at] as Int32Array;
    for (const more of on?.oneMore[combination] ?? []) {
      const idle = controlCode(more.control);
      if (here !== undefined && !here.has(idle)) continue;
      const { moved } = more;
      const own = all.filter((candidate) => ((grip[candidate] as number) & moved) === 0);
      if (own.length === 0) continue;
      members.push(own);
      staying[at]?.push(held.length);
      plainly.push(at);
      const engaged = on?.engaged[more.combination] ?? [];
      held.push({ neck, fret, slant, engaged, combination: more.combination, needs, idle });
    }
  });
  return { held, members, staying, plainly: Int32Array.from(plainly) };
}

/** A stage of all but what may stay, which is worked out where it is first asked for. */
function withStaying(
  stage: Omit<Stage, keyof Staying>,
  make: () => Staying = () => stayingAt(stage),
): Stage {
  let known: Staying | undefined;
  const all = (): Staying => (known ??= make());
  return {
    ...stage,
    get held() {
      return all().held;
    },
    get members() {
      return all().members;
    },
    get staying() {
      return all().staying;
    },
    get plainly() {
      return all().plainly;
    },
  };
}

/** By candidate: its effort without what is engaged. */
const effortOf = ({ effort, feet }: Layer): Int32Array =>
  effort.map((all, candidate) => all - (feet[candidate] as number));

/**
 * A layer with what may stay engaged at its positions.
 *
 * @param effort by candidate, as of a stage; that of the layer where left out
 */
export function stageOf(layer: Layer, necks: Necks, effort = effortOf(layer)): Stage {
  const same = Int32Array.from({ length: layer.count }, (_, candidate) => candidate);
  const place = Int32Array.from(layer.position);
  return withStaying({ layer, whole: layer, necks, effort, same, place });
}

/** The candidates that satisfy a test, in the same order. */
export function narrowedStage(stage: Stage, isChosen: (candidate: number) => boolean): Stage {
  const { layer, was } = narrowed(stage.layer, isChosen);
  return withStaying({
    layer,
    whole: stage.whole,
    necks: stage.necks,
    effort: effortOf(layer),
    same: was.map((candidate) => stage.same[candidate] as number),
    place: was.map((candidate) => stage.place[candidate] as number),
  });
}

/** A candidate of a whole layer as it is held, with what stays. */
export function heldAs({ layer, held, staying }: Stage, candidate: number, idle: string): Held {
  const at = layer.position[candidate] as number;
  const where = idle === '' ? at : staying[at]?.find((position) => held[position]?.idle === idle);
  const found = where === undefined ? undefined : held[where];
  if (found === undefined) throw new Error(`candidate ${candidate} with ${idle} staying`);
  return found;
}

/** The same stage with what is reached alone. */
function reachedStage(stage: Stage, reached: Reached): Stage {
  const { layer, whole, necks, effort, same, place } = stage;
  const all = { layer, whole, necks, effort, same, place };
  return withStaying(all, () => stayingAt(all, reached));
}

/** A stage at which nothing idle stays. */
export const plainStage = (stage: Stage): Stage => reachedStage(stage, new Map());

/**
 * Stages in the order in which they are played, each with those controls alone that may stay there in this order:
 * what the one before needs under the same bar, or what stays there already. Nothing stays at the first. No way is
 * lost, and most of what could stay somewhere nobody comes with. Stages that are the same one and are come to with
 * the same go on being the same one.
 */
export function inTurn(stages: readonly Stage[]): Stage[] {
  const made = new Map<Stage, Stage[]>();
  let reached: Reached = new Map();
  return stages.map((stage) => {
    const now = reachedStage(stage, reached);
    const before = made.get(stage) ?? [];
    made.set(stage, before);
    const same = before.find(({ held }) => isAsHeld(held, now.held));
    if (same === undefined) before.push(now);
    reached = leavingBehind(now);
    return same ?? now;
  });
}

/** Does the same stay, at positions of one layer? */
const isAsHeld = (a: Stage['held'], b: Stage['held']): boolean =>
  a.length === b.length &&
  a.every(({ idle, engaged }, at) => b[at]?.idle === idle && b[at]?.engaged === engaged);

/** What those who come from a stage may leave engaged. */
function leavingBehind({ held }: Stage): Reached {
  const left = new Map<number, Set<string>>();
  for (const each of held) {
    const { needs, idle } = each;
    if (idle === '' && needs.length === 0) continue;
    const at = barCode(each);
    let there = left.get(at);
    if (there === undefined) left.set(at, (there = new Set<string>()));
    if (idle !== '') there.add(idle);
    else for (const need of needs) there.add(controlCode(need));
  }
  return left;
}
