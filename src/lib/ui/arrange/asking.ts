/** Whom Progression asks, and what it is answered. */
import type { Alternatives } from '$lib/arrange/alternatives';
import type { ArrangedWay, Arrangement } from '$lib/arrange/arrange';
import type { OnePull } from '$lib/arrange/onePull';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Progression, Step } from '$lib/arrange/progression';
import { isChordsAlone, type Textures } from '$lib/arrange/texture';
import type { TuneArrangement } from '$lib/arrange/tune';
import type { Wishes } from '$lib/arrange/wishes';
import { ok, type Result } from '$lib/result';
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import type { StoredProgression } from '$lib/storage/piece';
import type { Setup } from '$lib/setup/setup';

/** Whoever finds the ways: a worker, or in tests what it would ask. */
export interface Arranging {
  arrange(
    setup: Setup,
    progression: Progression,
    wishes: Wishes,
    most: number,
  ): Promise<Result<Arrangement, string>>;
  arrangeTune(
    setup: Setup,
    piece: Piece,
    textures: Textures,
    wishes: Wishes,
    most: number,
  ): Promise<Result<TuneArrangement, string>>;
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

/** The door of the workers, as it is asked here. */
export const arrangingBy = (pool: WorkerPool): Arranging => ({
  arrange: (...given) => pool.ask('arrange', ...given),
  arrangeTune: (...given) => pool.ask('arrangeTune', ...given),
  alternatives: (...given) => pool.ask('alternatives', ...given),
  onePull: (...given) => pool.ask('onePull', ...given),
});

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
  /** The document that it answers, as a link carries it. */
  readonly asked?: StoredProgression;
  /** Every note of it, where a texture is asked for; `arrangement` has no ways then. */
  readonly tune?: TuneArrangement;
}

/** Beside a tune, which has its own ways. */
const NOTHING_FOUND: Arrangement = {
  ways: [],
  unplayable: [],
  clashes: [],
  searched: { candidates: 0, waysLog10: 0 },
};

/** A voicing a chord, or every note of the tune where a texture is asked for. */
export async function answerOf(
  worker: Pick<Arranging, 'arrange' | 'arrangeTune'>,
  {
    setup,
    progression,
    piece = pieceOf(progression),
    wishes,
  }: Pick<Answered, 'setup' | 'progression' | 'wishes'> & { readonly piece: Piece | undefined },
  most: number,
): Promise<Result<Pick<Answered, 'arrangement' | 'tune'>, string>> {
  const { textures } = wishes;
  // how chords are struck changes nothing about where they are held
  if (textures === undefined || isChordsAlone(textures)) {
    const found = await worker.arrange(setup, progression, wishes, most);
    return found.ok ? ok({ arrangement: found.value }) : found;
  }
  const found = await worker.arrangeTune(setup, piece, textures, wishes, most);
  return found.ok ? ok({ arrangement: NOTHING_FOUND, tune: found.value }) : found;
}
