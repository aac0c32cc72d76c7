/**
 * Whole setups: from a neck, and the controls on it that are to stay, to pulls for all other stations. Station
 * by station the pull set with the highest score is taken, then each is exchanged against all others until
 * none is better in its place. That finds a setup that no exchange of one control betters by more than the
 * measure tells, not the best of all there are: so it is begun from many starts, and how far they lie apart is
 * told with the result.
 */
import type { PlainPull } from '$lib/setup/candidates';
import { idAt } from '$lib/setup/controlText';
import { withControl, withoutControl } from '$lib/setup/proposal';
import {
  HAND,
  LEFT_KNEE_2,
  PEDALS,
  RIGHT_KNEE_2,
  type Setup,
  type Station,
} from '$lib/setup/setup';
import { changeBetween } from './change';
import { scoreOfChange } from './clarity';
import { suggesting, type Suggested, type SuggestQuestion } from './suggestion';
import { yardstick } from './yardstick';

/** What is asked: as for pulls at one station, of several. */
export interface ProposalQuestion extends Omit<SuggestQuestion, 'control' | 'limit' | 'keep'> {
  /** To be filled; none of them has a control yet. */
  readonly stations: readonly Station[];
  /** What starts are made of: the same number gives the same ones. */
  readonly seed: number;
}

/** What one start comes to. */
export interface ProposedSetup {
  /** Its number, from 0; the first one takes the best at each station in the order of the stations. */
  readonly start: number;
  readonly setup: Setup;
  /** The score against the neck with what stays: what `change` gives for all the controls at once. */
  readonly score: number;
  /** How often all stations were gone through once more. */
  readonly rounds: number;
}

/** Levers in the order in which instruments have them: common practice, from memory. */
const LEVERS: readonly Station[] = [
  ...(['LKL', 'LKR', 'RKL', 'RKR', 'LKV', 'RKV'] as const),
  ...LEFT_KNEE_2,
  ...RIGHT_KNEE_2,
  ...HAND,
];

/** The most pedals and levers that can be asked for. */
export const MOST_PEDALS = PEDALS.length;
/** Most levers that are asked for. */
export const MOST_LEVERS = LEVERS.length;

/**
 * The stations that are to be filled so that a setup has so many pedals and levers in all; what is there
 * counts. Pedals from the first on, levers as instruments have them.
 */
export function stationsToFill(setup: Setup, pedals: number, levers: number): Station[] {
  const there = setup.controls.map(({ station }) => station);
  const free = (stations: readonly Station[], many: number): Station[] => {
    const has = there.filter((each) => stations.includes(each)).length;
    return stations.filter((each) => !there.includes(each)).slice(0, Math.max(0, many - has));
  };
  return [...free(PEDALS, pedals), ...free(LEVERS, levers)];
}

/** A setup with some of its controls alone. */
export const withOnly = (setup: Setup, ids: readonly string[]): Setup =>
  setup.controls.reduce(
    (left, { id }) => (ids.includes(id) ? left : withoutControl(left, id)),
    setup,
  );

/** Numbers from 0 up to 1, the same for the same seed: Marsaglia's xorshift of 32 bits (J. Stat. Softw. 8, 2003). */
function chance(seed: number): () => number {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 2 ** 32;
  };
}

function shuffled<T>(items: readonly T[], random: () => number): T[] {
  const all = [...items];
  for (let at = all.length - 1; at > 0; at--) {
    const other = Math.floor(random() * (at + 1));
    [all[at], all[other]] = [all[other] as T, all[at] as T];
  }
  return all;
}

/** A start takes one of so many of the best at a station, by chance. */
const AMONG = 3;
/** Stations are gone through again at most so often; exchanges by a score of their own need not come to an end. */
const MOST_ROUNDS = 4;

const pullsKey = (pulls: readonly PlainPull[]): string =>
  pulls.map(({ neck, string, semitones }) => `${neck}.${string}:${semitones}`).join();

/** What a setup comes to by its controls, whatever they are called: setups that are the same have the same. */
export const pullsIn = (setup: Setup): string =>
  setup.controls
    .map(({ station, pulls }) => `${station} ${pullsKey(pulls)}`)
    .sort()
    .join('; ');

/** The best pull sets for a station of a setup, as if none were there. */
export function pullsAt(
  setup: Setup,
  station: Station,
  question: ProposalQuestion,
  limit: number,
): readonly Suggested[] {
  const there = setup.controls.find((control) => control.station === station);
  const without = there === undefined ? setup : withoutControl(setup, there.id);
  const { stations: _, seed: __, ...rest } = question;
  const control = { id: idAt(without, station), station };
  const search = suggesting(without, { ...rest, control, keep: [], limit });
  return search.within([0, search.candidates.count - 1]).best;
}

/** The score of all controls of a setup that a neck with what stays has not. */
export function scoreAgainst(bare: Setup, setup: Setup, question: ProposalQuestion): number {
  const { sizes, slants, wishes } = question;
  return scoreOfChange(changeBetween(bare, setup, yardstick(wishes), { sizes, slants }));
}

/**
 * What one start comes to. The question is taken as checked.
 *
 * @param bare the neck with what stays on it, which is not touched
 */
export function proposedFrom(
  bare: Setup,
  question: ProposalQuestion,
  start: number,
): ProposedSetup {
  const random = chance(question.seed * 1009 + start);
  const order = start === 0 ? question.stations : shuffled(question.stations, random);
  let setup = bare;
  for (const station of order) {
    const best = pullsAt(setup, station, question, AMONG);
    const chosen = best[start === 0 ? 0 : Math.floor(random() * best.length)];
    if (chosen !== undefined)
      setup = withControl(setup, { id: idAt(setup, station), station, pulls: chosen.pulls });
  }
  let found = { setup, score: scoreAgainst(bare, setup, question) };
  let rounds = 0;
  for (let changed = true; changed && rounds < MOST_ROUNDS; rounds++) {
    changed = false;
    for (const station of order) {
      const there = setup.controls.find((control) => control.station === station);
      const without = there === undefined ? setup : withoutControl(setup, there.id);
      const [best] = pullsAt(without, station, question, AMONG);
      if (best === undefined || (there && pullsKey(best.pulls) === pullsKey(there.pulls))) continue;
      setup = withControl(without, { id: idAt(without, station), station, pulls: best.pulls });
      changed = true;
    }
    const score = changed ? scoreAgainst(bare, setup, question) : found.score;
    if (score > found.score) found = { setup, score };
  }
  return { start, ...found, rounds };
}

/** The largest of some figures, the one in the middle, and the smallest. */
export interface Spread {
  readonly most: number;
  readonly median: number;
  readonly least: number;
}

/** What many starts come to: the setups that are different, highest score first, and how far they lie apart. */
export interface Proposals {
  readonly best: readonly (ProposedSetup & { readonly starts: number })[];
  /** Of the scores of all starts. */
  readonly spread: Spread;
}

/** How far figures lie apart; at least one. */
export function spreadOf(figures: readonly number[]): Spread {
  const sorted = [...figures].sort((a, b) => b - a);
  const middle = (sorted.length - 1) / 2;
  const median = ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
  return { most: sorted[0] ?? 0, median, least: sorted.at(-1) ?? 0 };
}

/** Joins what starts came to, in any order; at least one. */
export function joinProposals(found: readonly ProposedSetup[]): Proposals {
  const sorted = [...found].sort((a, b) => b.score - a.score || a.start - b.start);
  const different = new Map<string, ProposedSetup & { starts: number }>();
  for (const each of sorted) {
    const key = pullsIn(each.setup);
    const known = different.get(key);
    if (known === undefined) different.set(key, { ...each, starts: 1 });
    else known.starts++;
  }
  return { best: [...different.values()], spread: spreadOf(sorted.map(({ score }) => score)) };
}
