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
import { narrowed, type Layer, type Position } from '$lib/engine/layer';

/** A position with all that is engaged, and what of it is needed. */
export interface Held extends Position {
  /** What the chord needs; a way of its voicings. */
  readonly needs: Choice;
  /** The control that stays although nothing needs it, with its state; empty where none does. */
  readonly idle: string;
}

/** A control with its state, under a bar that lies somewhere. */
const controlAt = ({ neck, fret, slant }: Position, control: string): string =>
  `${neck}/${fret}/${slant}/${control}`;

export type Necks = ReadonlyMap<number, NeckCombinations>;

export interface Stage {
  readonly layer: Layer;
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
  /** By position: each control that is engaged there, as `controlAt` writes it. */
  readonly engaged: readonly (readonly string[])[];
  /** By position: the one that stays although nothing needs it; empty where none does. */
  readonly idle: readonly string[];
  /** By control, with its state: the positions of the layer that need it. */
  readonly needing: ReadonlyMap<string, readonly number[]>;
  /** By candidate: its number in the whole layer, of which this one may be a part. */
  readonly same: Int32Array;
  /** By candidate: the number of its position in the whole layer. */
  readonly place: Int32Array;
}

/** Each combination of a neck with one control more, and the strings that this moves. */
interface More {
  readonly engaged: Choice;
  readonly combination: number;
  /** The control, with its state. */
  readonly control: string;
  /** Strings, string s (from 0) in bit s. */
  readonly moved: number;
}

const MORE = new WeakMap<NeckCombinations, readonly (readonly More[])[]>();

function withOneMore(on: NeckCombinations): readonly (readonly More[])[] {
  let known = MORE.get(on);
  if (known === undefined) {
    const more = on.engaged.map((): More[] => []);
    on.released.forEach((lefts, combination) => {
      const engaged = on.engaged[combination] ?? [];
      for (const left of lefts) {
        const control = engagedCode(notNeeded(engaged, on.engaged[left] ?? []));
        more[left]?.push({ engaged, combination, control, moved: apart(on, left, combination) });
      }
    });
    MORE.set(on, (known = more));
  }
  return known;
}

/** The strings that two combinations move differently. */
function apart({ moves, strings }: NeckCombinations, a: number, b: number): number {
  let moved = 0;
  for (let s = 0; s < strings; s++)
    if (moves[a * strings + s] !== moves[b * strings + s]) moved |= 1 << s;
  return moved;
}

/** What of all that is engaged is not among what is needed. */
export const notNeeded = (engaged: Choice, needs: Choice): Choice =>
  engaged.filter(({ id }) => !needs.some((need) => need.id === id));

/** Layers are kept, and with them their stages. */
const STAGES = new WeakMap<Layer, Stage>();

/** A layer with what may stay engaged at its positions. */
export function stageOf(layer: Layer, necks: Necks): Stage {
  let known = STAGES.get(layer);
  if (known === undefined) {
    const same = Int32Array.from({ length: layer.count }, (_, candidate) => candidate);
    STAGES.set(layer, (known = makeStage(layer, necks, same, Int32Array.from(layer.position))));
  }
  return known;
}

function makeStage(layer: Layer, necks: Necks, same: Int32Array, place: Int32Array): Stage {
  const held: Held[] = layer.positions.map((position) => ({
    ...position,
    needs: position.engaged,
    idle: '',
  }));
  const members: Int32Array[] = [...layer.members];
  const staying = layer.positions.map((): number[] => []);
  const needing = new Map<string, number[]>();
  layer.positions.forEach((plain, at) => {
    for (const control of plain.engaged) {
      const code = engagedCode([control]);
      const there = needing.get(code);
      if (there === undefined) needing.set(code, [at]);
      else there.push(at);
    }
    const on = necks.get(plain.neck);
    const here = layer.members[at] as Int32Array;
    for (const more of (on && withOneMore(on)[plain.combination]) ?? []) {
      const { moved, engaged, combination, control } = more;
      const own = here.filter((candidate) => ((layer.grip[candidate] as number) & moved) === 0);
      if (own.length === 0) continue;
      members.push(own);
      staying[at]?.push(held.length);
      held.push({ ...plain, engaged, combination, needs: plain.engaged, idle: control });
    }
  });
  const effort = layer.effort.map((all, candidate) => all - (layer.feet[candidate] as number));
  const plainly = Int32Array.from(held, (_, at) => at);
  staying.forEach((there, at) => there.forEach((position) => (plainly[position] = at)));
  const engaged = held.map((each) =>
    each.engaged.map((control) => controlAt(each, engagedCode([control]))),
  );
  const idle = held.map((each) => (each.idle === '' ? '' : controlAt(each, each.idle)));
  return {
    layer,
    necks,
    effort,
    held,
    members,
    staying,
    plainly,
    engaged,
    idle,
    needing,
    same,
    place,
  };
}

/** The candidates that satisfy a test, in the same order. */
export function narrowedStage(stage: Stage, isChosen: (candidate: number) => boolean): Stage {
  const { layer, was } = narrowed(stage.layer, isChosen);
  return makeStage(
    layer,
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
