/**
 * A layer as a player comes to it: besides what a chord needs, one control that it does not need may stay
 * engaged from the chord before, as long as the bar stays too and no string that is picked is moved by it. It
 * costs nothing while it stays, and is there when it is needed again. A player who leads the bar elsewhere
 * lets go of what nothing needs.
 *
 * What stays so is nothing that anybody hears: a candidate is the same one whatever stays.
 */
import { engagedCode } from '$lib/setup/engagedText';
import type { Choice } from '$lib/setup/reach';
import type { NeckCombinations } from '$lib/search/combinations';
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

/** What of all that is engaged is not among what is needed. */
export const notNeeded = (engaged: Choice, needs: Choice): Choice =>
  engaged.filter(({ id }) => !needs.some((need) => need.id === id));

/** A layer with what may stay engaged at its positions. */
export function stageOf(layer: Layer, necks: Necks): Stage {
  const same = Int32Array.from({ length: layer.count }, (_, candidate) => candidate);
  return makeStage(layer, layer, necks, same, Int32Array.from(layer.position));
}

function makeStage(
  layer: Layer,
  whole: Layer,
  necks: Necks,
  same: Int32Array,
  place: Int32Array,
): Stage {
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
    const on = necks.get(neck);
    const here = layer.members[at] as Int32Array;
    for (const more of on?.oneMore[combination] ?? []) {
      const { moved, control } = more;
      const own = here.filter((candidate) => ((grip[candidate] as number) & moved) === 0);
      if (own.length === 0) continue;
      members.push(own);
      staying[at]?.push(held.length);
      plainly.push(at);
      const engaged = on?.engaged[more.combination] ?? [];
      const idle = engagedCode([control]);
      held.push({ neck, fret, slant, engaged, combination: more.combination, needs, idle });
    }
  });
  const effort = layer.effort.map((all, candidate) => all - (layer.feet[candidate] as number));
  return {
    layer,
    whole,
    necks,
    effort,
    held,
    members,
    staying,
    plainly: Int32Array.from(plainly),
    same,
    place,
  };
}

/** The candidates that satisfy a test, in the same order. */
export function narrowedStage(stage: Stage, isChosen: (candidate: number) => boolean): Stage {
  const { layer, was } = narrowed(stage.layer, isChosen);
  return makeStage(
    layer,
    stage.whole,
    stage.necks,
    was.map((candidate) => stage.same[candidate] as number),
    was.map((candidate) => stage.place[candidate] as number),
  );
}

/** A candidate of a whole layer as it is held, with what stays. */
export function heldAs({ layer, held, staying }: Stage, candidate: number, idle: string): Held {
  const at = layer.position[candidate] as number;
  const where = idle === '' ? at : staying[at]?.find((position) => held[position]?.idle === idle);
  const found = where === undefined ? undefined : held[where];
  if (found === undefined) throw new Error(`candidate ${candidate} with ${idle} staying`);
  return found;
}

/** A stage at which nothing idle stays. */
export function plainStage(stage: Stage): Stage {
  const { length } = stage.layer.positions;
  return {
    ...stage,
    held: stage.held.slice(0, length),
    members: stage.members.slice(0, length),
    staying: stage.layer.positions.map(() => []),
    plainly: stage.plainly.slice(0, length),
  };
}
