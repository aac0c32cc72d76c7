/**
 * What all pairs with one first pull set score at most, without looking at any of them: by it a search begins where
 * most can be found, passes over whole units, and tells what can still come.
 *
 * _The bound_, with the words of `pairSearch.ts`. The gain of a pair is at most S + sum w · [E(b) − N]⁺ +
 * sum w · [E(a, b) − R]⁺, since N ≥ R. Where grips count only if both move something on them, the last sum is divided
 * by the strings of the grip that a moves, U, and that b moves, V: what grips on which just the strings of
 * U ∪ V are moved give above R is Z(U ∪ V), and hangs on what is done to these strings alone. Every spot is filled by
 * some one shape, and counted in the Z of its own grip, so that the sum is at most that of Z(U ∪ V) over all parts
 * U of a and V of b, neither of them empty. A string that both move is in U and V at once, so parts that have it in
 * one alone are none.
 *
 * _For all b at once._ By V, y(V) is the sum of Z(U ∪ V) over all U, found once for every V of one string or two. A b of
 * three strings has three of the one and three of the other kind, and itself. With the largest for each two
 * strings, whatever they are moved by, the b's that move the same strings are bounded together. Those that may be above
 * the most that was found are looked at one by one, with what b alone gives above N.
 * Where one has three strings of four that are moved and the other two or more, whatever can be done to the four counts
 * there (`whatever`), since so much can be.
 *
 * _Without any grip_, the last sum is no more than that of w · [c − N]⁺ over all spots, where c is the ease
 * of the least effort that engaging both takes, because E(a, b) ≤ c on every spot. The lower of the two bounds counts.
 */
import { clarityOfHeard } from './clarity';
import { ROUNDING, type HeardAtMost } from './clarityTogether';
import { gainOf } from './ease';
import { canRemember } from './movedStates';
import type { PairGround } from './pairGround';
import {
  PartsWorth,
  alikeIn,
  maskOf,
  partsOn,
  type Alike,
  type Part,
  type Pulls,
} from './partsWorth';

/** Bounds of first pull sets. */
export class FirstBounds {
  readonly #ground: PairGround;
  readonly #alike: readonly Alike[];
  /** Strings that are moved, over all necks. */
  readonly #strings: number;
  /** Pull sets of one string or two: so many come first. */
  readonly #small: number;
  readonly #worth: PartsWorth;
  readonly #mostGain: number;
  /** By how many pulls count: what they count together at most; −1 where no second has so many. */
  readonly #mostHeard: readonly number[];

  constructor(ground: PairGround) {
    this.#ground = ground;
    const { sets } = ground;
    const { alike, strings } = alikeIn(sets);
    this.#alike = alike;
    this.#strings = strings;
    this.#small = alike.reduce((end, each) => (each.strings.length < 3 ? each.end : end), 0);
    this.#worth = new PartsWorth(ground, alike, this.#small);
    const mostHeard = [-1, -1, -1, -1];
    sets.heard.forEach((most, at) => {
      const counted = sets.counted[at] as number;
      mostHeard[counted] = Math.max(mostHeard[counted] ?? -1, most);
    });
    this.#mostHeard = mostHeard;
    this.#mostGain = sets.gains.reduce((most, each) => Math.max(most, each), 0);
  }

  /** No score of a pair with this first pull set is above this. */
  most(first: number): number {
    const { meeting, question } = this.#ground;
    const { now, sum } = this.#ground.withFirst(first);
    const heard = this.#ground.heardWith(first);
    const loose = this.#loose(now, sum, heard);
    if (!meeting || !canRemember(question.options)) return loose;
    return Math.min(loose, this.#byGrips(first, now, sum, heard));
  }

  /** Without any grip. */
  #loose(now: Uint16Array, sum: number, own: HeardAtMost): number {
    const { cheapest, size } = this.#ground;
    const { weight } = this.#ground.question.by;
    let joint = 0;
    for (let at = 0; at < now.length; at++) {
      const more = cheapest - (now[at] as number);
      if (more > 0) joint += more * (weight[Math.floor((at % size) / 12)] as number);
    }
    const gain = gainOf(sum + this.#mostGain + joint);
    if (gain <= 0) return 0;
    return this.#mostHeard.reduce((score, most, counted) => {
      if (most < 0) return score;
      return Math.max(score, gain * clarityWith(own, most, counted));
    }, 0);
  }

  #byGrips(first: number, now: Uint16Array, sum: number, own: HeardAtMost): number {
    const ground = this.#ground;
    const { sets } = ground;
    const { parts, partsFrom } = sets;
    const pulls = sets.pulls[first] as Pulls;
    const necks = ground.question.setup.necks.keys();
    const partsBy = Array.from(necks, (neck) => partsOn(sets, neck, first));
    const masks = partsBy.map((_, neck) => maskOf(pulls.filter((each) => each.neck === neck + 1)));
    const worth = new Float64Array(this.#small);
    const strings = this.#strings;
    // the most of a string, and of two with a half of what each of them gives by itself
    const one = new Float64Array(strings);
    const two = new Float64Array(strings * strings);
    for (const each of this.#alike) {
      if (each.strings.length > 2) break;
      const { first: from, end, neck, mask } = each;
      const [s = 0, t = -1] = each.strings;
      if (neck >= 0) {
        const shared = mask & (masks[neck] as number);
        for (const part of partsBy[neck] as readonly Part[]) {
          if ((part.mask & shared) !== shared) continue;
          const row = this.#worth.withSmall(part, neck);
          if (row === undefined) this.#worth.addWhole(worth, each, first);
          else for (let at = from; at < end; at++) (worth[at] as number) += row[at] as number;
        }
      }
      let most = 0;
      for (let at = from; at < end; at++) {
        let all = worth[at] as number;
        const part = partsFrom[at] as number;
        if (t >= 0 && neck >= 0)
          all +=
            ((worth[parts[part] as number] as number) +
              (worth[parts[part + 1] as number] as number)) /
            2;
        most = Math.max(most, all);
      }
      if (t < 0) one[s] = most;
      else two[s * strings + t] = neck < 0 ? ((one[s] as number) + (one[t] as number)) / 2 : most;
    }
    const pair = (x: number, y: number): number => two[x * strings + y] as number;
    const bounds = this.#alike.map((each, number) => {
      const [s = 0, t = 0, u = 0] = each.strings;
      const size = each.strings.length;
      const three =
        size === 3 && each.neck >= 0
          ? this.#worth.withThree(each, number, partsBy[each.neck] ?? [], masks[each.neck] ?? 0)
          : 0;
      const small =
        size === 1
          ? (one[s] as number)
          : size === 2
            ? pair(s, t) + ((one[s] as number) + (one[t] as number)) / 2
            : pair(s, t) + pair(s, u) + pair(t, u);
      const clarity = Math.max(
        clarityWith(own, each.heard, size),
        each.counted < size ? clarityWith(own, 0, 0) : 0,
      );
      const most = gainOf(sum + each.gain + small + three) * clarity;
      return { each, three, most };
    });
    let found = 0;
    for (const { each, three, most } of bounds.sort((x, y) => y.most - x.most)) {
      if (most <= found) break;
      for (let at = each.first; at < each.end; at++) {
        let all = sum;
        for (let i = partsFrom[at] as number; i < (partsFrom[at + 1] as number); i++)
          all += worth[parts[i] as number] as number;
        if (at < this.#small) all += worth[at] as number;
        const clear = clarityWith(own, sets.heard[at] as number, sets.counted[at] as number);
        if (gainOf(all + three + (sets.gains[at] as number)) * clear <= found) continue;
        const bound = gainOf(all + three + ground.spotsBeside(at, now)) * clear;
        if (bound <= found) continue;
        if (three > 0)
          all += this.#worth.ofThree(
            each.neck,
            pulls,
            sets.pulls[at] as Pulls,
            partsBy[each.neck] ?? [],
          );
        found = Math.max(found, gainOf(all + ground.spotsBeside(at, now)) * clear);
      }
    }
    return found;
  }
}

const clarityWith = ({ most, pulls }: HeardAtMost, heard: number, counted: number): number =>
  clarityOfHeard(most + heard, pulls + counted) * ROUNDING;
