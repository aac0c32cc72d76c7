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
import type { PlainPull } from '$lib/setup/candidates';
import { clarityOfHeard } from './clarity';
import { ROUNDING, type HeardAtMost } from './clarityTogether';
import { gainOf } from './ease';
import { canRemember, doneBy, MOST_STRINGS, type MovedStates } from './movedStates';
import type { PairGround } from './pairGround';

type Pulls = readonly PlainPull[];

/** Pull sets that move the same strings. */
interface Alike {
  /** The first, and the first of the others behind them. */
  readonly first: number;
  readonly end: number;
  /** Their strings, numbered over all necks, ascending. */
  readonly strings: readonly number[];
  readonly mask: number;
  /** From 0; −1 where there are several. */
  readonly neck: number;
  readonly gain: number;
  readonly heard: number;
  /** How many pulls count at least. */
  readonly counted: number;
}

/** A part of the first pull set, on one neck. */
interface Part {
  readonly mask: number;
  readonly many: number;
  /** Its own number as a pull set. */
  readonly number: number;
}

const many = (mask: number): number => {
  let count = 0;
  for (let left = mask; left !== 0; left &= left - 1) count++;
  return count;
};

const maskOf = (pulls: Pulls): number =>
  pulls.reduce((mask, { string }) => mask | (1 << (string - 1)), 0);

const both = (one: number, other: number): number =>
  doneBy(Math.max(0, one, other), Math.min(0, one, other));

/** Bounds of first pull sets. */
export class FirstBounds {
  readonly #ground: PairGround;
  readonly #alike: readonly Alike[];
  /** Strings that are moved, over all necks. */
  readonly #strings: number;
  /** Pull sets of one string or two: so many come first. */
  readonly #small: number;
  /** By small pull set as a part of a first: what it gives with each small second; and with those of three strings, by `#alike`. */
  readonly #withSmall: (Float64Array | undefined)[] = [];
  readonly #withThree: (Float64Array | undefined)[] = [];
  readonly #mostGain: number;
  /** By how many pulls count: what they count together at most; −1 where no second has so many. */
  readonly #mostHeard: readonly number[];
  // what is done to the strings of a neck by the two
  readonly #done: readonly Uint8Array[];

  constructor(ground: PairGround) {
    this.#ground = ground;
    const { sets, question } = ground;
    this.#done = question.setup.necks.map(({ strings }) => new Uint8Array(strings.length));
    const numbers = new Map<string, number>();
    const alike: Alike[] = [];
    for (let first = 0, end = 0; first < sets.count; first = end) {
      while (end < sets.count && sets.strings[end] === sets.strings[first]) end++;
      const pulls = sets.pulls[first] as Pulls;
      const most = (of: ArrayLike<number>): number =>
        Array.from({ length: end - first }, (_, at) => of[first + at] as number).reduce((x, y) =>
          Math.max(x, y),
        );
      alike.push({
        ...{ first, end, mask: maskOf(pulls), neck: sets.necks[first] as number },
        strings: pulls.map(({ neck, string }) => {
          const name = `${neck}.${string}`;
          if (!numbers.has(name)) numbers.set(name, numbers.size);
          return numbers.get(name) as number;
        }),
        gain: most(sets.gains),
        heard: most(sets.heard),
        counted: sets.counted.subarray(first, end).reduce((x, y) => Math.min(x, y)),
      });
    }
    this.#alike = alike;
    this.#strings = numbers.size;
    this.#small = alike.reduce((end, each) => (each.strings.length < 3 ? each.end : end), 0);
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
    const partsBy = this.#done.map((_, neck) => this.#partsOn(neck, first));
    const masks = this.#done.map((_, neck) =>
      maskOf(pulls.filter((each) => each.neck === neck + 1)),
    );
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
          const row = this.#smallWith(part, neck);
          if (row === undefined) this.#addWhole(worth, each, first);
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
          ? this.#three(each, number, partsBy[each.neck] ?? [], masks[each.neck] ?? 0)
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
          all += this.#worthOf(each.neck, pulls, sets.pulls[at] as Pulls, partsBy[each.neck] ?? []);
        found = Math.max(found, gainOf(all + ground.spotsBeside(at, now)) * clear);
      }
    }
    return found;
  }

  /** The parts of a first pull set on a neck, none of them empty. */
  #partsOn(neck: number, first: number): Part[] {
    const { sets } = this.#ground;
    const numbers = [
      ...sets.parts.subarray(sets.partsFrom[first], sets.partsFrom[first + 1]),
      first,
    ];
    return numbers
      .filter((number) => sets.necks[number] === neck)
      .map((number) => {
        const mask = maskOf(sets.pulls[number] as Pulls);
        return { mask, many: many(mask), number };
      });
  }

  /** What a part of one string or two gives with each small second pull set; nothing for one of three. */
  #smallWith({ number, many: size }: Part, neck: number): Float64Array | undefined {
    if (size > 2) return undefined;
    let row = this.#withSmall[number];
    if (row === undefined) {
      const { sets } = this.#ground;
      const pulls = sets.pulls[number] as Pulls;
      row = new Float64Array(this.#small);
      for (const each of this.#alike) {
        if (each.first >= this.#small) break;
        if (each.neck !== neck) continue;
        for (let at = each.first; at < each.end; at++)
          row[at] = this.#stateOf(neck, pulls, sets.pulls[at] as Pulls);
      }
      this.#withSmall[number] = row;
    }
    return row;
  }

  /** What all three strings of a first pull set give with small second ones. */
  #addWhole(worth: Float64Array, { first: from, end, neck, mask }: Alike, first: number): void {
    const { sets, states } = this.#ground;
    const pulls = sets.pulls[first] as Pulls;
    const all = mask | maskOf(pulls);
    const size = many(all);
    if (size > MOST_STRINGS) return;
    // a string more than the first has, and one that both move
    const isWhatever = size === MOST_STRINGS && many(mask) === 2;
    const whatever = isWhatever ? (states[neck] as MovedStates).whatever(all) : 0;
    for (let at = from; at < end; at++)
      (worth[at] as number) += isWhatever
        ? whatever
        : this.#stateOf(neck, pulls, sets.pulls[at] as Pulls);
  }

  /** What pull sets of three strings give at most by grips that hold all three. */
  #three(each: Alike, number: number, parts: readonly Part[], own: number): number {
    const { sets, states } = this.#ground;
    const shared = each.mask & own;
    let sum = 0;
    for (const part of parts) {
      const all = part.mask | each.mask;
      const size = many(all);
      if ((part.mask & shared) !== shared || size > MOST_STRINGS) continue;
      if (part.many > 2 || (part.many === 2 && size === MOST_STRINGS)) {
        sum += (states[each.neck] as MovedStates).whatever(all);
        continue;
      }
      const row = (this.#withThree[part.number] ??= new Float64Array(this.#alike.length).fill(-1));
      if ((row[number] as number) < 0) {
        const pulls = sets.pulls[part.number] as Pulls;
        let most = 0;
        for (let at = each.first; at < each.end; at++)
          most = Math.max(most, this.#stateOf(each.neck, pulls, sets.pulls[at] as Pulls));
        row[number] = most;
      }
      sum += row[number] as number;
    }
    return sum;
  }

  /** What a second pull set of three strings gives by grips that hold all three. */
  #worthOf(neck: number, first: Pulls, second: Pulls, parts: readonly Part[]): number {
    const mask = maskOf(second);
    const shared = mask & maskOf(first.filter((each) => each.neck === neck + 1));
    let sum = 0;
    for (const part of parts)
      if ((part.mask & shared) === shared && many(part.mask | mask) <= MOST_STRINGS)
        sum += this.#stateOf(neck, this.#ground.sets.pulls[part.number] as Pulls, second);
    return sum;
  }

  /** What grips give on which just the strings of two parts are moved. */
  #stateOf(neck: number, first: Pulls, second: Pulls): number {
    const done = this.#done[neck] as Uint8Array;
    const mask = maskOf(first) | maskOf(second);
    if (many(mask) > MOST_STRINGS) return 0;
    for (const { string, semitones } of first) done[string - 1] = both(semitones, 0);
    for (const { string, semitones } of second) {
      const own = first.find((each) => each.string === string)?.semitones ?? 0;
      done[string - 1] = both(own, semitones);
    }
    return (this.#ground.states[neck] as MovedStates).most(mask, done);
  }
}

const clarityWith = ({ most, pulls }: HeardAtMost, heard: number, counted: number): number =>
  clarityOfHeard(most + heard, pulls + counted) * ROUNDING;
