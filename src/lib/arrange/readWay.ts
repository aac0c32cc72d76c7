/** A way as a person reads it: every chord with its voicing, what is held, and what that asks. */
import { voicingAt } from '$lib/search/voicing';
import type { Choice } from '$lib/setup/reach';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms } from '$lib/effort/clarity';
import { PER_UNIT, effortOf } from '$lib/effort/effort';
import { engagingTerms } from '$lib/effort/engaging';
import { moveBetween, moveFromHome, moveOf, type SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import type { ArrangedStep, ArrangedWay, Ready } from './arrange';
import type { FoundWay } from './bestWays';
import type { InTime } from './inOrder';
import type { Prepared } from './prepared';
import { heldAs, notNeeded, type Held } from './stage';

/** A candidate as a person reads it; `before` is all that was engaged before it. */
function stepAt(
  { setup, wishes, times }: Ready,
  prepared: Prepared,
  candidate: number,
  { neck, fret, slant, engaged, needs }: Held,
  before: Choice,
): Omit<ArrangedStep, 'move'> {
  const { layer } = prepared;
  const { index, step, chord, tones, sets, indexes, bandsBass } = prepared;
  const searched = indexes.get(neck);
  const on = setup.necks[neck - 1];
  if (searched === undefined || on === undefined) throw new Error(`neck ${neck} was not searched`);
  const voicing = voicingAt(searched, layer.voicing[candidate] as number, fret, sets);
  const ascending = [...voicing.pitches].sort((a, b) => a - b);
  const effort = effortOf(
    [
      ...engagingTerms(setup, before, needs),
      ...pickingTerms(on, voicing.strings),
      ...barTerms(setup, fret, undefined, slant),
      ...heightTerms(fret),
      ...closeTerms(ascending),
      ...lowTerms(ascending),
    ],
    wishes.balance,
  );
  const wish = layer.wish[candidate] as number;
  const { strings, pitches } = voicing;
  return {
    index,
    step,
    chord,
    tones,
    voicing,
    way: needs,
    stays: notNeeded(engaged, needs),
    hold: { neck, fret, slant, strings, pitches, engaged: needs },
    time: times[index] as InTime,
    bandsBass,
    effort: { ...effort, wish: wish / PER_UNIT, total: add(effort.total, wish / PER_UNIT) },
  };
}

/** Sums of thousandths stay thousandths. */
const add = (...values: readonly number[]): number =>
  values.reduce((sum, value) => sum + Math.round(value * PER_UNIT), 0) / PER_UNIT;

/** Steps that are known, by what they come to, and all that is held there. */
export type KnownSteps = Map<string, { readonly step: ArrangedStep; readonly hold: SoundingHold }>;

const NO_MOVE = {
  barMm: 0,
  semitones: 0,
  changes: { pressed: [], letGo: [], shifted: [] },
  held: [],
};

/**
 * A way as a person reads it.
 *
 * @param known steps of other ways of the same piece: those that come to the same are shared
 */
export function wayOf(
  ready: Ready,
  { candidates, idle, short }: Pick<FoundWay, 'candidates' | 'idle' | 'short'>,
  known: KnownSteps = new Map(),
): ArrangedWay {
  const { setup, wishes, playable, question } = ready;
  const { stages, times: between } = question;
  const { balance, home } = wishes;
  let before: SoundingHold | undefined;
  const steps = stages.map((stage, at): ArrangedStep => {
    const candidate = candidates[at] as number;
    const as = [at, candidates[at - 1], idle[at - 1], candidate, idle[at]].join('|');
    const same = known.get(as);
    if (same !== undefined) {
      before = same.hold;
      return same.step;
    }
    const held = heldAs(stage, candidate, idle[at] ?? '');
    const engaged = before?.engaged ?? [];
    const step = stepAt(ready, playable[at] as Prepared, candidate, held, engaged);
    const hold: SoundingHold = { ...step.hold, engaged: held.engaged, idle: step.stays };
    const move =
      before !== undefined
        ? moveBetween(setup, before, hold, balance, between[at - 1])
        : home !== undefined
          ? moveFromHome(setup, home, hold, balance)
          : moveOf([], balance, NO_MOVE);
    before = hold;
    const whole = { ...step, move };
    known.set(as, { step: whole, hold });
    return whole;
  });
  const sum = (value: (step: ArrangedStep) => number): number => add(...steps.map(value));
  const [held, moved] = [sum(({ effort }) => effort.total), sum(({ move }) => move.total)];
  return {
    total: add(held, moved),
    ...(short === undefined ? {} : { short: short / PER_UNIT }),
    parts: {
      held,
      moved,
      bar: sum(({ effort, move }) => effort.bar + move.bar),
      picking: sum(({ effort, move }) => effort.picking + move.picking),
      feet: sum(({ effort, move }) => effort.feet + move.feet),
      voices: sum(({ move }) => move.voices),
      clarity: sum(({ effort }) => effort.clarity),
      wish: sum(({ effort }) => effort.wish),
      barMm: steps.reduce((mm, { move }) => mm + move.barMm, 0),
      semitones: steps.reduce((all, { move }) => all + move.semitones, 0),
    },
    steps,
  };
}
