/** `gripwright arrange --texture …`: every note of a tune. */
import type { Textures } from '$lib/arrange/texture';
import { struckSteps } from '$lib/arrange/strike';
import { arrangeTune } from '$lib/arrange/tune';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Progression, ProgressionFault } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';
import { writeStruck, type Writing } from './arrangementFile';
import { Refusal, print, printJson } from './out';
import { struckJson, tuneJson } from './tuneJson';
import { printTune } from './tuneTable';

/** What is asked. */
interface TuneRun {
  readonly setup: Setup;
  readonly progression: Progression;
  /** As it is written, with every note of its tune, where a file or a text told it. */
  readonly piece?: Piece | undefined;
  readonly faults: readonly ProgressionFault[];
  readonly wishes: Wishes;
  readonly textures: Textures;
  readonly ways: number;
  readonly writing: Writing;
  readonly json: boolean;
}

/** Arranges it and prints or writes the best. */
export async function runTune(asked: TuneRun): Promise<void> {
  const { setup, progression, piece, faults, wishes, textures, ways, writing, json } = asked;
  const written = piece ?? pieceOf(progression);
  const arrangement = arrangeTune(setup, written, textures, wishes, ways);
  const [best] = arrangement.ways;
  const struck = struckSteps(setup, written, best?.steps ?? [], wishes.strikes);
  const document = () => ({
    ...tuneJson(progression, faults, arrangement),
    ...(wishes.strikes === undefined ? {} : { struck: struckJson(struck) }),
  });
  if (!json) printTune(faults, arrangement);
  if (best === undefined) {
    const error = 'There is no note in it that can be played.';
    if (json) printJson({ error, ...document() });
    throw new Refusal(error, 1);
  }
  const name = await writeStruck({ setup, piece: written, steps: struck }, writing);
  if (!json && name !== undefined) print(`\n${writing.out}: ${name}.`);
  if (json) printJson(document());
}
