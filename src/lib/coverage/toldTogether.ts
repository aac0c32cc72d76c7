/** A choice of pull sets for several stations in words of the setup, weighed as `change` weighs it. */
import { withControl } from '$lib/setup/proposal';
import type { PlainPull } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import { changeBetween } from './change';
import type { ShapeOptions } from './shapeOptions';
import { scoreOfChange } from './clarity';
import { easeAt } from './ease';
import { examplesTogether } from './examplesTogether';
import type { Picks, ToldControl, ToldTogether } from './foundTogether';
import type { Place } from './pairGround';
import type { Yardstick } from './yardstick';

/** What choices are told by. */
export interface ToldGround {
  readonly setup: Setup;
  readonly places: readonly Place[];
  readonly by: Yardstick;
  readonly options: ShapeOptions;
  /** The pulls of a pull set by its number. */
  readonly pulls: (pick: number) => readonly PlainPull[];
}

/** What a choice is, and what those score that do the same by other stations. */
export function toldOf(ground: ToldGround, picks: Picks): ToldTogether {
  const { setup, places, by, options, pulls } = ground;
  const place = (index: number): Place => places[index] as Place;
  const changeOf = (all: Picks) => {
    const after = all.reduce(
      (changed, pick, index) =>
        pick < 0 ? changed : withControl(changed, { ...place(index), pulls: pulls(pick) }),
      setup,
    );
    const change = changeBetween(setup, after, by, options);
    return { change, score: scoreOfChange(change), after };
  };
  const controlsOf = (all: Picks): ToldControl[] =>
    all.flatMap((pick, index) =>
      pick < 0 ? [] : [{ station: place(index).station, pulls: pulls(pick) }],
    );
  const { change, score, after } = changeOf(picks);
  const isPlayable = (of: 'before' | 'after', chordNumber: number): boolean =>
    change.eases[of].some((eases) => easeAt(eases, chordNumber) > 0);
  const opens = Array.from(by.weight.keys()).filter(
    (chordNumber) => isPlayable('after', chordNumber) && !isPlayable('before', chordNumber),
  );
  const examples = examplesTogether(
    after,
    picks.flatMap((pick, index) => (pick < 0 ? [] : [{ ...place(index), pulls: pulls(pick) }])),
    by,
    (type, root) => opens.includes(by.types.indexOf(type) * 12 + root),
  );
  return {
    controls: controlsOf(picks),
    strings: picks.reduce((sum, pick) => sum + (pick < 0 ? 0 : pulls(pick).length), 0),
    gain: change.gain,
    score,
    examples,
    byType: by.types
      .map((type, index) => ({ type, gain: change.gainByType[index] ?? 0 }))
      .filter(({ gain }) => gain !== 0)
      .sort((a, b) => b.gain - a.gain),
    opens: opens.map((chordNumber) => ({
      type: by.types[Math.floor(chordNumber / 12)] ?? '',
      root: chordNumber - 12 * Math.floor(chordNumber / 12),
    })),
    alike: picks.some((pick) => pick < 0)
      ? []
      : otherOrders(picks)
          .map((other) => ({ controls: controlsOf(other), score: changeOf(other).score }))
          .filter((each) => each.score > 0)
          .sort((a, b) => b.score - a.score),
  };
}

/** The other orders of some picks, each once. */
function otherOrders(picks: Picks): Picks[] {
  const all = new Map<string, Picks>();
  const walk = (chosen: readonly number[], left: readonly number[]): void => {
    if (left.length === 0) all.set(chosen.join(), chosen);
    left.forEach((pick, at) => {
      walk([...chosen, pick], [...left.slice(0, at), ...left.slice(at + 1)]);
    });
  };
  walk([], picks);
  all.delete(picks.join());
  return [...all.values()];
}
