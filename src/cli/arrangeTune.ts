/** `gripwright arrange --texture …`: every note of a tune. */
import type { Textures } from '$lib/arrange/texture';
import { struckSteps } from '$lib/arrange/strike';
import { arrangeTune } from '$lib/arrange/tune';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Progression, ProgressionFault } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Paper } from '$lib/formats/drawing';
import { TUNE_ENDINGS, tuneFileKind } from '$lib/formats/tuneFiles';
import { heardTune } from '$lib/playing/tuneNotes';
import { refusedUnrendered } from '$lib/rendering/renderSound';
import type { Setup } from '$lib/setup/setup';
import { writeOut } from './files';
import { Refusal, print, printJson } from './out';
import { tuneJson } from './tuneJson';
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
  readonly paper: Paper;
  readonly out?: string | undefined;
  readonly json: boolean;
}

/** Why a tune is not written to such a file; `undefined` where it is. */
export const refusedOut = (name: string): string | undefined =>
  tuneFileKind(name) === undefined
    ? `--out: found “${name}”; allowed are files that end in ${TUNE_ENDINGS} with a texture.`
    : undefined;

/** Arranges it and prints or writes the best. */
export async function runTune(asked: TuneRun): Promise<void> {
  const { setup, progression, piece, faults, wishes, textures, ways, paper, out, json } = asked;
  const written = piece ?? pieceOf(progression);
  const arrangement = arrangeTune(setup, written, textures, wishes, ways);
  const [best] = arrangement.ways;
  const document = () => tuneJson(progression, faults, arrangement);
  if (!json) printTune(faults, arrangement);
  if (best === undefined) {
    const error = 'There is no note in it that can be played.';
    if (json) printJson({ error, ...document() });
    throw new Refusal(error, 1);
  }
  const kind = out === undefined ? undefined : tuneFileKind(out);
  if (out !== undefined && kind !== undefined) {
    const steps = struckSteps(setup, written, best.steps, wishes.strikes);
    const refused = kind.rendered === true ? refusedUnrendered(heardTune(setup, steps)) : undefined;
    if (refused !== undefined) throw new Refusal(`${out}: ${refused}`, 1);
    await writeOut(out, await kind.write({ setup, piece: written, steps, paper }));
    if (!json) print(`\n${out}: ${kind.name}.`);
  }
  if (json) printJson(document());
}
