/**
 * How clear the use of a pull set is: what of it a player would play, and not only count.
 *
 * A player who engages a control picks the grips that the hand knows and expects a chord. So a pull
 * counts by the share of its grips of three strings (runs of home strings with the control's own, as in
 * `uses`) on which what sounds becomes another chord of the repertoire: with every tone or as a seventh
 * chord without its fifth, the bar still, and no string split. That share counts in full where the control
 * does it alone, and for 0.6 of it where one other limb has to hold something too, such as A and B; the
 * hold that gives most counts. Where a control moves two strings of one note in opposite directions, the
 * octave is gone, and what the hand plays in one register it cannot play in the other: such pulls count
 * half where both sound in one chord, the control alone, on a grip of up to five strings (as P6 of a C6
 * neck has it), and else nothing. The clarity is the mean over the pulls, from a quarter where
 * none is heard (the chords are there all the same) to 1 where each is heard on all its grips.
 */
import { chromaOf } from '$lib/theory/pitch';
import { pullIn, type Control, type Setup } from '$lib/setup/setup';
import type { Change } from './change';
import { gripsOfControl, useGround, type UseGround } from './uses';
import type { Yardstick } from './yardstick';

const ALONE = 1;
const BESIDE = 0.6;
const PARTED = 0.5;
const UNHEARD = 0.25;

/** The control's grips on a neck (from 0) where it moves these strings. */
function gripsFor(ground: UseGround, neck: number, moved: readonly number[]) {
  const key = `${neck}:${moved.join()}`;
  const grips = ground.grips.get(key) ?? gripsOfControl(ground.home[neck] ?? [], moved);
  ground.grips.set(key, grips);
  return grips;
}

const bitOf = (pitch: number): number => 1 << chromaOf(pitch);

/** What the pulls on one neck count, in their order: 0 … 1 each; and what octaves that part leave of it at most. */
function heardOn(
  ground: UseGround,
  neck: number,
  own: Control['pulls'],
): { readonly heard: readonly number[]; readonly parted: readonly number[] } {
  const { clear } = ground;
  const open = ground.open[neck] ?? [];
  const all = gripsFor(
    ground,
    neck,
    own.map(({ string }) => string),
  );
  const three = all.filter(({ length }) => length === 3);
  const best = own.map(() => 0);
  const before = open.map(() => 0);
  const after = open.map(() => 0);
  const parted = own.map(() => 1);
  let split = 0;
  /** Does a grip sound another chord with the control than before? */
  const tells = (strings: readonly number[]): boolean => {
    let [was, is, grip] = [0, 0, 0];
    for (const string of strings) {
      was |= before[string - 1] ?? 0;
      is |= after[string - 1] ?? 0;
      grip |= 1 << (string - 1);
    }
    return was !== is && (grip & split) === 0 && (clear[is] ?? []).length > 0;
  };
  for (const { held, necks, beside } of ground.helds) {
    const worth = held.length === 0 ? ALONE : BESIDE;
    if (best.every((each) => each >= worth)) continue;
    const { raise = [], lower = [] } = necks[neck] ?? {};
    for (const { state } of beside) {
      for (let s = 0; s < open.length; s++)
        before[s] = after[s] = bitOf((open[s] ?? 0) + (raise[s] ?? 0) + (lower[s] ?? 0));
      split = 0;
      for (const pull of own) {
        const s = pull.string - 1;
        const by = pullIn(pull, state);
        const up = Math.max(raise[s] ?? 0, by);
        const down = Math.min(lower[s] ?? 0, by);
        after[s] = bitOf((open[s] ?? 0) + up + down);
        if (up > 0 && down < 0) split |= 1 << s;
      }
      const told = three.map(tells);
      own.forEach(({ string }, index) => {
        if (before[string - 1] === after[string - 1]) return;
        let [picked, chords] = [0, 0];
        three.forEach((strings, at) => {
          if (!strings.includes(string)) return;
          picked++;
          if (told[at] === true) chords++;
        });
        if (picked > 0) best[index] = Math.max(best[index] ?? 0, (worth * chords) / picked);
      });
    }
    if (held.length > 0) continue;
    // the octaves of one note that part, with the control all the way and nothing beside it
    own.forEach((one, i) =>
      own.forEach((other, j) => {
        const isSameNote = bitOf(open[one.string - 1] ?? 0) === bitOf(open[other.string - 1] ?? 0);
        if (j <= i || !isSameNote || one.semitones * other.semitones > 0) return;
        const meet = all.some(
          (strings) =>
            strings.includes(one.string) && strings.includes(other.string) && tells(strings),
        );
        for (const index of [i, j]) parted[index] = Math.min(parted[index] ?? 1, meet ? PARTED : 0);
      }),
    );
  }
  parted.forEach((share, index) => {
    best[index] = (best[index] ?? 0) * share;
  });
  return { heard: best, parted };
}

/**
 * What all pulls of a control count together, and no more than what they could count whatever the other
 * controls that are not in the ground do: those can only be the one limb beside it.
 */
export function heardWithin(
  ground: UseGround,
  pulls: Control['pulls'],
): { readonly sum: number; readonly most: number } {
  let [sum, most] = [0, 0];
  ground.setup.necks.forEach((_, neck) => {
    const own = pulls.filter((pull) => pull.neck === neck + 1);
    if (own.length === 0) return;
    const { heard, parted } = heardOn(ground, neck, own);
    heard.forEach((each, at) => {
      sum += each;
      most += Math.max(each, BESIDE * (parted[at] ?? 1));
    });
  });
  return { sum, most };
}

/** The clarity of so many pulls that count so much together. */
export const clarityOfHeard = (sum: number, pulls: number): number =>
  pulls === 0 ? 1 : UNHEARD + ((1 - UNHEARD) * sum) / pulls;

/** The clarity of a control if it had these pulls: 0.25 … 1; 1 where it has none. */
export function clarityWith(ground: UseGround, pulls: Control['pulls']): number {
  if (pulls.length === 0) return 1;
  let sum = 0;
  ground.setup.necks.forEach((_, neck) => {
    const own = pulls.filter((pull) => pull.neck === neck + 1);
    if (own.length > 0) for (const each of heardOn(ground, neck, own).heard) sum += each;
  });
  return clarityOfHeard(sum, pulls.length);
}

/** The one measure of `change` and of `suggest`: the gain by its clarity; a loss stays as it is. */
export const scoreOf = (gain: number, clarity: number): number =>
  gain > 0 ? gain * clarity : gain;

/** What a part of a gain adds to the score that the whole comes to. */
export const scoreOfPart = (part: number, gain: number, score: number): number =>
  gain === 0 ? part : (part * score) / gain;

/** The score of a change: its gain by the clarity of the controls that it brings or alters. */
export function scoreOfChange({ before, after, by, gain }: Change): number {
  const changed = after.controls.filter((control) => !isIn(before, control));
  return scoreOfControls(
    gain,
    changed.map((control) => ({
      pulls: control.pulls.length,
      clarity: clarityIn(after, control, by),
    })),
  );
}

/** The score of a gain by the clarity of several controls, in the order of the setup; each counts as many times as it has pulls. */
export function scoreOfControls(
  gain: number,
  controls: readonly { readonly pulls: number; readonly clarity: number }[],
): number {
  const pulls = controls.reduce((sum, each) => sum + each.pulls, 0);
  if (pulls === 0) return gain;
  const [only] = controls;
  if (controls.length === 1 && only) return scoreOf(gain, only.clarity);
  const sum = controls.reduce((all, each) => all + each.pulls * each.clarity, 0);
  return scoreOf(gain, sum / pulls);
}

const clarityIn = (setup: Setup, { id, pulls }: Control, by: Yardstick): number =>
  clarityWith(useGround(setup, id, by), pulls);

/** The same control, moving the same strings, stands there. */
export const isIn = (setup: Setup, { station, pulls }: Control): boolean => {
  const there = setup.controls.find((each) => each.station === station);
  const text = (all: Control['pulls']): string =>
    all
      .map(({ neck, string, semitones, half }) => `${neck}.${string}:${semitones}/${half ?? ''}`)
      .sort()
      .join();
  return there !== undefined && text(there.pulls) === text(pulls);
};
