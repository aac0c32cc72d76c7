/** What Explore asks of the rest of the program. */
import type { Result } from '$lib/result';
import type { Findings, PositionRows } from '$lib/answers/explore';
import type { Asked } from '$lib/answers/question';
import type { Setup } from '$lib/setup/setup';

/** The part of the search client that is needed here. */
export interface Searching {
  ask(setup: Setup, asked: Asked, most: number): Promise<Result<Findings, string>>;
  more(from: number, most: number): Promise<Result<PositionRows[], string>>;
}

/** The part of the shelf that is needed here. */
export interface KnownSetups {
  get(id: string): Setup | undefined;
  /** Waits until it is known whether there is one. */
  find(id: string): Promise<Setup | undefined>;
  /** Why there is none, as a sentence. */
  unknown(id: string): string;
}
