/**
 * What a control is good for, as a teacher shows it on the neck: with the bar still, on grips that the
 * hand knows, one chord becomes another when the control is engaged, alone or beside others.
 * A universal neck has two open positions: as it is, and with the lever of its second home engaged, which players
 * lock or hold for a whole song. Each has a row of home strings of its own.
 *
 * A grip of a control is a run along the row of home strings into which the strings that the control
 * moves are taken: no home string between its first and its last is missed. So a lever for string 2 of
 * an E9 neck is shown on 2-3-4-5, and one for string 9 on 6-8-9 (common practice of the trade, from
 * memory). It has three or four strings; five only where fewer do not tell that chord.
 */
import type { PcSet } from '$lib/theory/pcset';
import { chromaOf, type Midi } from '$lib/theory/pitch';
import { limbAt } from '$lib/setup/exceptions';
import { isInSecondHome, secondHome, type SecondHome } from '$lib/setup/secondHome';
import { combinations, type Choice } from '$lib/setup/reach';
import {
  openMidi,
  pullIn,
  type Control,
  type ControlState,
  type Engaged,
  type Setup,
} from '$lib/setup/setup';
import { farthest } from '$lib/setup/sounding';
import { gripOf } from '$lib/search/grip';
import { Feet } from '$lib/effort/feet';
import { homeStrings } from '$lib/effort/picking';
import { feetPrice, pickingPrice } from '$lib/effort/prices';
import { easeOf } from './ease';
import type { ClearChords, Yardstick } from './yardstick';

/**
 * A split is in tune only where a rod or a screw was fitted for it, and one of its two controls is given
 * up for it: as good as a pedal more, in thousandths of an effort.
 */
export const SPLIT = 1000;

/** Strings of a grip that a teacher begins with, and how many a hand can rake where a chord needs them. */
const FEWEST = 3;
const USUAL = 4;
const MOST = 5;

/** One grip on which a control makes a chord, with the bar straight at the nut. */
export interface Use {
  /** From 1. */
  readonly neck: number;
  /** What is engaged already, and stays. */
  readonly held: Choice;
  readonly pressed: Engaged;
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** The pitch of each of the strings before, and with the control. */
  readonly from: readonly Midi[];
  readonly to: readonly Midi[];
  /** The chord number before, where it is a chord of the yardstick. */
  readonly was: number | undefined;
  readonly is: number;
  /** Feet and picking hand and what a split costs, in thousandths. */
  readonly effort: number;
  /** One of its strings is pulled up and down at once. */
  readonly split: boolean;
}

/** Something else that is engaged, and what it does to each string of each neck. */
interface Held {
  readonly held: Choice;
  readonly necks: readonly ReturnType<typeof farthest>[];
  /** The control's states beside it, with what the legs pay for the two together. */
  readonly beside: readonly { readonly state: ControlState; readonly feet: number }[];
}

/** What all pull sets of one control share. */
export interface UseGround {
  readonly setup: Setup;
  readonly id: string;
  readonly by: Yardstick;
  readonly clear: ClearChords;
  readonly open: readonly (readonly Midi[])[];
  readonly home: readonly (readonly number[])[];
  /** By neck: the tuning that a universal neck carries besides, with a row of home strings of its own. */
  readonly second: readonly (SecondHome | undefined)[];
  readonly helds: readonly Held[];
  /** Thousandths for picking a grip, by neck and strings. */
  readonly picking: Map<string, number>;
  /** The control's grips of any strings that it moves, by neck and strings. */
  readonly grips: Map<string, readonly (readonly number[])[]>;
}

/** What may be engaged beside a control: what one limb holds, such as A and B together, or anything. */
export type Beside = 'one limb' | 'anything';

/** Makes ready what does not depend on the pulls of a control that is in the setup. */
export function useGround(
  setup: Setup,
  id: string,
  by: Yardstick,
  what: Beside = 'one limb',
): UseGround {
  const limbs = new Map(setup.controls.map((each) => [each.id, limbAt(each.station)]));
  const reachable = [...combinations(setup)];
  const feet = new Feet(setup);
  const known = new Set(reachable.map(keyOf));
  const helds = new Map<
    string,
    { held: Choice; beside: { state: ControlState; feet: number }[] }
  >();
  for (const engaged of reachable) {
    const pressed = engaged.find((each) => each.id === id);
    if (pressed === undefined) continue;
    const held = engaged.filter((each) => each.id !== id);
    if (what === 'one limb' && new Set(held.map((each) => limbs.get(each.id))).size > 1) continue;
    const key = keyOf(held);
    if (!known.has(key)) continue;
    const entry = helds.get(key) ?? { held, beside: [] };
    helds.set(key, entry);
    entry.beside.push({ state: pressed.state, feet: feetPrice(feet, engaged) });
  }
  return {
    setup,
    id,
    by,
    clear: by.clear,
    open: setup.necks.map(openMidi),
    home: setup.necks.map(homeStrings),
    second: setup.necks.map((_, index) => secondHome(setup, index + 1)),
    helds: [...helds.values()]
      .map(({ held, beside }) => ({
        held,
        beside,
        necks: setup.necks.map((_, neck) => farthest(setup, neck + 1, held)),
      }))
      .sort((a, b) => a.held.length - b.held.length),
    picking: new Map(),
    grips: new Map(),
  };
}

const keyOf = (engaged: Choice): string =>
  engaged
    .map(({ id, state }) => `${id}:${state}`)
    .sort()
    .join();

/** The grips of a control on one neck, fewer strings first; `moved` are the strings that it moves. */
export function gripsOfControl(home: readonly number[], moved: readonly number[]): number[][] {
  const row = [...new Set([...home, ...moved])].sort((a, b) => a - b);
  const grips: number[][] = [];
  const grow = (grip: readonly number[], from: number): void => {
    if (grip.length >= FEWEST && grip.some((string) => moved.includes(string)))
      grips.push([...grip]);
    if (grip.length === MOST) return;
    for (let at = from; at < row.length; at++) {
      const string = row[at] as number;
      grow([...grip, string], at + 1);
      // whatever comes after a home string would miss it
      if (grip.length > 0 && home.includes(string)) return;
    }
  };
  grow([], 0);
  return grips.sort((a, b) => a.length - b.length || a.findIndex((s, i) => s !== b[i]));
}

/**
 * The pair of chords in whose words a change is told: of one root where it can be, then from the home
 * chord's root, then the first of each. In a second home, whose chord is a sixth and a minor seventh, what comes of
 * it is told from its root too.
 */
function pairOf(
  was: readonly number[],
  is: readonly number[],
  tonic: number,
  onSixth: boolean,
): readonly [number | undefined, number] {
  const first = is[0] as number;
  let best: readonly [number | undefined, number] = [undefined, first];
  let least = Infinity;
  was.forEach((from, i) =>
    is.forEach((to, j) => {
      const [old, root] = [chromaOf(from), chromaOf(to)];
      const rooted = (old === tonic ? 0 : 20) + (onSixth && root !== tonic ? 10 : 0);
      const cost = (old === root ? 0 : 100) + rooted + i + j;
      if (cost < least) [best, least] = [[from, to], cost];
    }),
  );
  return best[0] !== undefined && chromaOf(best[0]) === chromaOf(best[1])
    ? best
    : [best[0], onTonic(is, best[1], tonic)];
}

/** A chord whose tones are alike all round, as an augmented triad’s, is told on the home chord's root. */
function onTonic(is: readonly number[], to: number, tonic: number): number {
  const alike = to - chromaOf(to) + tonic;
  return is.includes(alike) ? alike : to;
}

/** The root of the chord of a neck's home strings, as a pitch class at the nut. */
export function tonicOf({ home, open, clear }: UseGround, neck: number): number {
  const pitches = (home[neck - 1] ?? []).map((string) => open[neck - 1]?.[string - 1] ?? 0);
  const set = pitches.reduce((bits, pitch) => bits | (1 << chromaOf(pitch)), 0);
  const said = clear[set] ?? [];
  const lowest = chromaOf(Math.min(...pitches));
  const chord = said.find((each) => chromaOf(each) === lowest) ?? said[0];
  return chord === undefined ? lowest : chromaOf(chord);
}

/** Uses of a control if it had these pulls, fewer other controls first, then as the grips are ordered. */
export function usesWith(ground: UseGround, pulls: Control['pulls']): Use[] {
  const { setup, id, clear, open, home } = ground;
  const uses: Use[] = [];
  setup.necks.forEach((neck, index) => {
    const own = pulls.filter((pull) => pull.neck === index + 1);
    if (own.length === 0) return;
    const moved = own.map(({ string }) => string);
    const first = { home: home[index] ?? [], tonic: tonicOf(ground, index + 1) };
    const other = ground.second[index];
    const homes = [
      first,
      ...(other ? [{ home: other.strings, tonic: other.roots[0] ?? 0 }] : []),
    ].map((each) => ({ ...each, grips: gripsOfControl(each.home, moved) }));
    const at = open[index] ?? [];
    for (const { held, necks, beside } of ground.helds) {
      const { raise, lower } = necks[index] ?? { raise: [], lower: [] };
      const before = at.map((pitch, s) => pitch + (raise[s] ?? 0) + (lower[s] ?? 0));
      for (const { state, feet } of beside) {
        // whoever has the second home's lever engaged has its row under the hand
        const isThere = other !== undefined && isInSecondHome(other, [...held, { id, state }]);
        const { grips, tonic, home: row } = homes[isThere ? 1 : 0] ?? { ...first, grips: [] };
        const after = [...before];
        const split = new Set<number>();
        for (const pull of own) {
          const s = pull.string - 1;
          const by = pullIn(pull, state);
          const [up, down] = [Math.max(raise[s] ?? 0, by), Math.min(lower[s] ?? 0, by)];
          after[s] = (at[s] ?? 0) + up + down;
          if (up > 0 && down < 0) split.add(pull.string);
        }
        const told = new Set<string>();
        for (const strings of grips) {
          if (strings.every((string) => after[string - 1] === before[string - 1])) continue;
          // what the others do must be heard, or it is the control alone once more
          if (held.length > 0 && strings.every((string) => before[string - 1] === at[string - 1]))
            continue;
          const is = clear[setOf(strings, after)] ?? [];
          if (is.length === 0) continue;
          const was = clear[setOf(strings, before)] ?? [];
          const [from, to] = pairOf(was, is, tonic, isThere);
          if (from === to) continue;
          const key = `${from}|${to}`;
          if (strings.length > USUAL && told.has(key)) continue;
          told.add(key);
          const gripKey = `${index}:${isThere}:${strings.join()}`;
          const picking = ground.picking.get(gripKey) ?? pickingPrice(neck, gripOf(strings), row);
          ground.picking.set(gripKey, picking);
          const isSplit = strings.some((string) => split.has(string));
          uses.push({
            neck: index + 1,
            held,
            pressed: { id, state },
            strings,
            from: strings.map((string) => before[string - 1] ?? 0),
            to: strings.map((string) => after[string - 1] ?? 0),
            was: from,
            is: to,
            effort: feet + picking + (isSplit ? SPLIT : 0),
            split: isSplit,
          });
        }
      }
    }
  });
  return uses;
}

const setOf = (strings: readonly number[], pitches: readonly Midi[]): PcSet =>
  strings.reduce((bits, string) => bits | (1 << chromaOf(pitches[string - 1] ?? 0)), 0);

/** Uses of a control of a setup. */
export function usesOf(setup: Setup, id: string, by: Yardstick, what?: Beside): Use[] {
  const control = setup.controls.find((each) => each.id === id);
  return usesWith(useGround(setup, id, by, what), control?.pulls ?? []);
}

/** What a use is worth: how much its chord is used, by its ease. */
export const worthOf = ({ weight, tones }: Yardstick, { is, effort }: Use): number =>
  (weight[is] as number) * (tones[Math.floor(is / 12)] as number) * easeOf(effort, false);
