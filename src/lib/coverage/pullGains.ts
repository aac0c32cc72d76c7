/**
 * The gain of every candidate for one station, exactly as the full comparison gives it, without
 * running it.
 *
 * What the control cannot change is searched once: all shapes of the combinations that do not
 * engage it. A candidate adds to that only shapes of the combinations that do, on grips; and what
 * such a grip sounds depends on no more than the pulls of its own strings. So for some strings U
 * pulled by some semitones the _additions_ (a grip, a spot, an ease above what is there already) are
 * found once, on all grips that hold U; a candidate with the strings S draws together, for every
 * part U of S, the additions of U on grips that hold none of the others in S. The empty part is
 * among them: with three pedals at once a control that moves nothing can still be the bridge
 * between two others. The best of each spot stands in one array, and put back afterwards.
 *
 * Costs depend on the station and not on the pulls, so they too are the same for all candidates.
 */
import { chromaOf } from '$lib/theory/pitch';
import { openMidi, type Control, type Engaged, type Setup } from '$lib/setup/setup';
import { withControl, withoutControl } from '$lib/setup/proposal';
import { combinations } from '$lib/setup/reach';
import {
  amountsAt,
  setOf,
  type Candidates,
  type Movable,
  type StringSet,
} from '$lib/setup/candidates';
import { farthest } from '$lib/setup/sounding';
import { fretsFor } from '$lib/search/find';
import { gripOf, gripsOf, stringsIn, type Grip } from '$lib/search/grip';
import { slantedGrips } from '$lib/search/slants';
import { middlePedal } from '$lib/effort/feet';
import { barPrices, feetPrice, pickingPrice } from '$lib/effort/prices';
import { compile } from '$lib/engine/instrument';
import { shapesOf, type NeckShapes } from '$lib/engine/shapes';
import type { ShapeOptions } from './change';
import { easeAt, easeOf, easesOf, sumsByType, type Eases } from './gain';
import { counts, type Yardstick } from './yardstick';

/** A grip, straight or under a slant. */
interface PricedGrip {
  readonly grip: Grip;
  readonly strings: Uint8Array;
  /** Frets ahead of the nearest string. */
  readonly ahead: Int8Array;
  readonly price: number;
}

/** Additions of some pulls, one a row. */
interface Additions {
  readonly grip: Uint16Array;
  readonly spot: Uint16Array;
  readonly ease: Uint16Array;
}

/** What one neck brings to the search, with the bar at the nut. */
interface NeckGround {
  readonly strings: number;
  readonly open: Int16Array;
  readonly grips: readonly PricedGrip[];
  /** Combinations that engage the control: prices, and raises and lowers of all others by string. */
  readonly many: number;
  readonly feet: Int32Array;
  readonly raise: Int8Array;
  readonly lower: Int8Array;
  readonly before: Eases;
  /** What is there without the control. */
  readonly rest: Eases;
  /** Additions by the strings pulled and how far, as text; those of three strings are not remembered. */
  readonly known: Map<string, Additions>;
  /** Eases all at 0, to be left at 0. */
  readonly scratch: Eases;
}

export interface PullGains {
  /** The sum of a candidate's gain, a whole number; `undefined` where it gives up what must stay. */
  sumAt(candidate: number): number | undefined;
  /** A candidate's gain by type as whole numbers, in the order of the yardstick. */
  sumsByTypeAt(candidate: number): number[];
  /** Chord numbers, type by type, that can be played with it and could not before. */
  newChordsAt(candidate: number): number[];
}

export interface GainsQuestion {
  readonly setup: Setup;
  /** The control to be filled, without pulls; another at its station is taken away. */
  readonly control: Pick<Control, 'id' | 'station'>;
  readonly by: Yardstick;
  readonly options: ShapeOptions;
  readonly candidates: Candidates;
  /** Chord numbers that must not be lost. */
  readonly keep: readonly number[];
}

/** The grips of a neck, straight and under every slant that some fret can take. */
function gripsOn(setup: Setup, neckNumber: number, { sizes, slants }: ShapeOptions): PricedGrip[] {
  const neck = setup.necks[neckNumber - 1];
  if (neck === undefined) throw new Error(`neck ${neckNumber} is not in the setup`);
  const priced = (grip: Grip, slant: number, ahead?: readonly number[]): PricedGrip => {
    const strings = stringsIn(grip).map((string) => string - 1);
    // fret 1 need not be reached for
    const bar = barPrices(setup, slant)[1] ?? 0;
    return {
      grip,
      strings: Uint8Array.from(strings),
      ahead: Int8Array.from(ahead ?? strings.map(() => 0)),
      price: pickingPrice(neck, grip) + bar,
    };
  };
  const count = neck.strings.length;
  return [
    ...gripsOf(count, sizes).map((grip) => priced(grip, 0)),
    ...(slants ? slantedGrips(count, sizes) : [])
      .filter(({ ahead }) => fretsFor(ahead, [0, setup.frets]).length > 0)
      .map(({ grip, slant, ahead }) => priced(grip, slant, ahead)),
  ];
}

/**
 * Makes ready what all candidates share, after which each is asked by its number (from 0, as
 * `candidates` counts them). Sums are whole numbers, which `gainOf` makes a gain of; they are those of
 * `sumsByType` on the shapes before and after. Takes longest on the first candidates, whose additions
 * are then remembered. Throws where a neck or a candidate is asked for that is not there.
 */
export function pullGains(question: GainsQuestion): PullGains {
  const { setup, control, by, options, candidates, keep } = question;
  const filled = withControl(setup, { ...control, pulls: [] });
  const without = withoutControl(filled, control.id);
  const withIt = [...combinations(filled)].filter((engaged) =>
    engaged.some(({ id }) => id === control.id),
  );
  // all of them held as if the control were there: a pedal more moves the middle of the pedal bar
  const middle = middlePedal(filled);
  const before = shapesOf(compile(setup, middle), options);
  const rest = shapesOf(compile(without, middle), options);
  const necks = setup.necks.map((_, index): NeckGround =>
    groundOf(filled, index + 1, withIt, question, {
      before: easesOf(before[index] as NeckShapes, by),
      rest: easesOf(rest[index] as NeckShapes, by),
    }),
  );
  const now = necks.map(({ rest }) => rest.slice());
  const base = necks.reduce(
    (sum, { before, rest }) => sum + sumsByType(by, before, rest).reduce((a, b) => a + b, 0),
    0,
  );
  const isPlayable = (eases: readonly Eases[], chordNumber: number): boolean =>
    eases.some((each) => easeAt(each, chordNumber) > 0);
  const eases = (of: 'before' | 'rest'): Eases[] => necks.map((neck) => neck[of]);
  // what stays anyhow need not be asked for each candidate
  const atRisk = keep.filter(
    (chordNumber) =>
      isPlayable(eases('before'), chordNumber) && !isPlayable(eases('rest'), chordNumber),
  );

  // what the last candidate changed, to be put back
  const changedNeck: number[] = [];
  const changedSpot: number[] = [];
  let added = 0;
  const apply = (neck: number, additions: Additions, pulled: number, part: number): void => {
    const { grip, spot, ease } = additions;
    const eases = now[neck] as Eases;
    for (let row = 0; row < grip.length; row++) {
      if (((grip[row] as number) & pulled) !== part) continue;
      const at = spot[row] as number;
      const more = (ease[row] as number) - (eases[at] as number);
      if (more <= 0) continue;
      added += more * (by.weight[(at / 12) | 0] as number);
      eases[at] = ease[row] as number;
      changedNeck.push(neck);
      changedSpot.push(at);
    }
  };
  const putBack = (): void => {
    for (let i = 0; i < changedSpot.length; i++) {
      const neck = changedNeck[i] as number;
      const spot = changedSpot[i] as number;
      (now[neck] as Eases)[spot] = (necks[neck] as NeckGround).rest[spot] as number;
    }
    changedNeck.length = changedSpot.length = 0;
    added = 0;
  };

  /** Brings a candidate's additions in, lets somebody look, and takes them out again. */
  function withCandidate<T>(candidate: number, look: () => T): T {
    const { strings, first } = candidates.sets[setOf(candidates, candidate)] as StringSet;
    const amounts = amountsAt(strings, candidate - first);
    necks.forEach((ground, neck) => {
      const own = strings.flatMap((string, i) =>
        string.neck === neck + 1 ? [[string, amounts[i] as number] as const] : [],
      );
      const pulled = gripOf(own.map(([{ string }]) => string));
      for (let choice = 0; choice < 1 << own.length; choice++) {
        const part = own.filter((_, i) => choice & (1 << i));
        const partBits = gripOf(part.map(([{ string }]) => string));
        apply(neck, additionsOf(ground, part, by), pulled, partBits);
      }
    });
    const seen = look();
    putBack();
    return seen;
  }

  return {
    sumAt: (candidate) =>
      withCandidate(candidate, () =>
        atRisk.every((chordNumber) => isPlayable(now, chordNumber)) ? base + added : undefined,
      ),
    sumsByTypeAt: (candidate) =>
      withCandidate(candidate, () => {
        const sums = by.types.map(() => 0);
        necks.forEach(({ before }, neck) =>
          sumsByType(by, before, now[neck] as Eases).forEach((sum, type) => {
            sums[type] = (sums[type] ?? 0) + sum;
          }),
        );
        return sums;
      }),
    newChordsAt: (candidate) =>
      withCandidate(candidate, () => {
        const chordNumbers: number[] = [];
        for (let chordNumber = 0; chordNumber < by.weight.length; chordNumber++)
          if (isPlayable(now, chordNumber) && !isPlayable(eases('before'), chordNumber))
            chordNumbers.push(chordNumber);
        return chordNumbers;
      }),
  };
}

/** What one neck brings: prices, and what every other control does in each combination. */
function groundOf(
  filled: Setup,
  neck: number,
  withIt: readonly (readonly Engaged[])[],
  { options }: GainsQuestion,
  eases: Pick<NeckGround, 'before' | 'rest'>,
): NeckGround {
  const played = filled.necks[neck - 1];
  if (played === undefined) throw new Error(`neck ${neck} is not in the setup`);
  const strings = played.strings.length;
  // cheapest first, and of those that move the strings alike only the first
  const rows = withIt
    .map((engaged) => {
      const { raise, lower } = farthest(filled, neck, engaged);
      return { price: feetPrice(filled, engaged), raise, lower };
    })
    .sort((a, b) => a.price - b.price);
  const met = new Set<string>();
  const distinct = rows.filter(({ raise, lower }) => {
    const key = `${raise.join()}|${lower.join()}`;
    return !met.has(key) && met.add(key);
  });
  const flat = (of: 'raise' | 'lower'): Int8Array =>
    Int8Array.from(distinct.flatMap((row) => row[of]));
  return {
    strings,
    open: Int16Array.from(openMidi(played)),
    grips: gripsOn(filled, neck, options),
    many: distinct.length,
    feet: Int32Array.from(distinct, ({ price }) => price),
    raise: flat('raise'),
    lower: flat('lower'),
    ...eases,
    known: new Map(),
    scratch: eases.before.slice().fill(0),
  };
}

/** What some pulls add on the grips that hold all of their strings; remembered for up to two strings. */
function additionsOf(
  ground: NeckGround,
  part: readonly (readonly [Movable, number])[],
  by: Yardstick,
): Additions {
  const key = part.map(([{ string }, amount]) => `${string}:${amount}`).join();
  const known = ground.known.get(key);
  if (known !== undefined) return known;
  const additions = findAdditions(
    ground,
    part.map(([{ string }, amount]) => [string - 1, amount]),
    by,
  );
  if (part.length < 3) ground.known.set(key, additions);
  return additions;
}

function findAdditions(
  ground: NeckGround,
  part: readonly (readonly [string: number, amount: number])[],
  by: Yardstick,
): Additions {
  const { strings, open, many, feet, raise, lower, rest } = ground;
  const mask = part.reduce((bits, [string]) => bits | (1 << string), 0);
  const pitch = new Int16Array(many * strings);
  for (let row = 0; row < many; row++)
    for (let s = 0; s < strings; s++) {
      const at = row * strings + s;
      pitch[at] = (open[s] as number) + (raise[at] as number) + (lower[at] as number);
    }
  for (const [s, amount] of part)
    for (let row = 0; row < many; row++) {
      const at = row * strings + s;
      pitch[at] =
        (open[s] as number) +
        Math.max(raise[at] as number, amount) +
        Math.min(lower[at] as number, amount);
    }

  const found: number[] = [];
  const { scratch: best } = ground;
  for (const { grip, strings: own, ahead, price } of ground.grips) {
    if ((grip & mask) !== mask) continue;
    const start = found.length;
    for (let row = 0; row < many; row++) {
      let set = 0;
      let high = 0;
      for (let i = 0; i < own.length; i++) {
        const sounds = (pitch[row * strings + (own[i] as number)] as number) + (ahead[i] as number);
        set |= 1 << chromaOf(sounds);
        if (sounds > high) high = sounds;
      }
      if (!counts(by, set)) continue;
      const effort = price + (feet[row] as number);
      const last = by.from[set + 1] as number;
      for (let entry = by.from[set] as number; entry < last; entry++) {
        const spot = (by.chordNumber[entry] as number) * 12 + chromaOf(high);
        const ease = easeOf(effort, by.lean[entry] === 1);
        if (ease <= (rest[spot] as number) || ease <= (best[spot] as number)) continue;
        if (best[spot] === 0) found.push(spot);
        best[spot] = ease;
      }
    }
    // a row a spot, written as grip, spot and ease in one number while the list grows
    for (let i = start; i < found.length; i++) {
      const spot = found[i] as number;
      found[i] = (grip * 65536 + spot) * 1024 + (best[spot] as number);
      best[spot] = 0;
    }
  }
  const ofGrip = (row: number): number => Math.floor(row / (65536 * 1024));
  return {
    grip: Uint16Array.from(found, ofGrip),
    spot: Uint16Array.from(found, (row) => Math.floor(row / 1024) % 65536),
    ease: Uint16Array.from(found, (row) => row % 1024),
  };
}
