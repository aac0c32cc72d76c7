/** Whom Progression asks, and what it is answered. */
import type { Alternatives } from '$lib/arrange/alternatives';
import type { ArrangedWay, Arrangement } from '$lib/arrange/arrange';
import type { OnePull } from '$lib/arrange/onePull';
import type { Piece } from '$lib/arrange/piece';
import type { Progression, Step } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';

/** Whoever finds the ways: a worker, or in tests what it would ask. */
export interface Arranging {
  arrange(
    setup: Setup,
    progression: Progression,
    wishes: Wishes,
    most: number,
  ): Promise<Result<Arrangement, string>>;
  alternatives(
    setup: Setup,
    progression: Progression,
    wishes: Wishes,
    best: ArrangedWay,
  ): Promise<Result<Alternatives, string>>;
  onePull(
    setup: Setup,
    wishes: Wishes,
    step: Step,
    index: number,
  ): Promise<Result<readonly OnePull[], string>>;
}

export interface Shelf {
  find(id: string): Promise<Setup | undefined>;
  unknown(id: string): string;
}

export interface Answered {
  /** The text that it answers. */
  readonly text: string;
  readonly setup: Setup;
  readonly progression: Progression;
  /** The same as it is written, with its tune and words. */
  readonly piece?: Piece;
  readonly wishes: Wishes;
  readonly arrangement: Arrangement;
}
