/** A passage that is learned slowly and becomes quicker by steps. */

/** Quarter notes a minute that can be played, at the beginning of a passage. */
const TEMPOS = { least: 30, most: 300 } as const;

/** So many quarter notes a minute more, each time that so many rounds have been played. */
export interface SpeedSteps {
  /** 0 where the tempo stays. */
  readonly by: number;
  /** Whole, 1 or more. */
  readonly every: number;
}

/** A tempo as near as can be played. */
export const playable = (tempo: number): number =>
  Math.max(TEMPOS.least, Math.min(TEMPOS.most, tempo));

/**
 * The tempo of a round.
 *
 * @param round its number, from 0
 * @param before the tempo of the round before it
 */
export const tempoAt = (round: number, before: number, { by, every }: SpeedSteps): number =>
  by !== 0 && round > 0 && round % every === 0 ? playable(before + by) : before;
