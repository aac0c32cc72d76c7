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
import type { Control, Setup } from '$lib/setup/setup';
import { withControl, withoutControl } from '$lib/setup/proposal';
import { combinations } from '$lib/setup/reach';
import type { Candidates } from '$lib/setup/candidates';
import { middlePedal } from '$lib/effort/feet';
import { compile } from '$lib/engine/instrument';
import { shapesOf, type NeckShapes } from '$lib/engine/shapes';
import { NeckAdditions } from './additions';
import { CandidateEases } from './candidateEases';
import type { ShapeOptions } from './shapeOptions';
import { easeAt, easesOf, sumsByType, type Eases } from './ease';
import type { Yardstick } from './yardstick';

/** What one neck brings to the search, with the bar at the nut. */
interface NeckGround {
  readonly before: Eases;
  /** What is there without the control. */
  readonly rest: Eases;
  readonly additions: NeckAdditions;
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
  const necks = setup.necks.map((_, index): NeckGround => {
    const eases = easesOf(rest[index] as NeckShapes, by);
    return {
      before: easesOf(before[index] as NeckShapes, by),
      rest: eases,
      additions: new NeckAdditions({ filled, neck: index + 1, withIt, by, options }, eases),
    };
  });
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

  const stand = new CandidateEases(by, candidates, necks);
  const { now } = stand;

  return {
    sumAt: (candidate) =>
      stand.with(candidate, () =>
        atRisk.every((chordNumber) => isPlayable(now, chordNumber))
          ? base + stand.added
          : undefined,
      ),
    sumsByTypeAt: (candidate) =>
      stand.with(candidate, () => {
        const sums = by.types.map(() => 0);
        necks.forEach(({ before }, neck) =>
          sumsByType(by, before, now[neck] as Eases).forEach((sum, type) => {
            sums[type] = (sums[type] ?? 0) + sum;
          }),
        );
        return sums;
      }),
    newChordsAt: (candidate) =>
      stand.with(candidate, () => {
        const chordNumbers: number[] = [];
        for (let chordNumber = 0; chordNumber < by.weight.length; chordNumber++)
          if (isPlayable(now, chordNumber) && !isPlayable(eases('before'), chordNumber))
            chordNumbers.push(chordNumber);
        return chordNumbers;
      }),
  };
}
