/** `gripwright arrange --texture …`: every note of a tune. */
import type { Textures } from '$lib/arrange/texture';
import { arrangeTune } from '$lib/arrange/tune';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  type Progression,
  type ProgressionFault,
} from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import { heardTune, writtenTune } from '$lib/playing/tuneNotes';
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
  readonly out?: string | undefined;
  readonly json: boolean;
}

const isWritable = (name: string): boolean => /\.(?:wav|midi?)$/iu.test(name);

/** Why a tune is not written to such a file; `undefined` where it is. */
export const refusedOut = (name: string): string | undefined =>
  isWritable(name)
    ? undefined
    : `--out: found “${name}”; allowed are files that end in .wav, .mid, .midi with a texture.`;

/** Arranges it and prints or writes the best. */
export async function runTune(asked: TuneRun): Promise<void> {
  const { setup, progression, piece, faults, wishes, textures, ways, out, json } = asked;
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
  if (out !== undefined) {
    await writeOut(out, await bytesOf(asked, best.steps, out));
    if (!json) print(`\n${out}: ${/\.wav$/iu.test(out) ? 'the sound' : 'a MIDI file'}.`);
  }
  if (json) printJson(document());
}

async function bytesOf(
  { setup, progression }: TuneRun,
  steps: Parameters<typeof writtenTune>[0],
  out: string,
): Promise<Uint8Array> {
  const { title = 'Tune', tempo = DEFAULT_TEMPO, metre = DEFAULT_METRE } = progression;
  if (!/\.wav$/iu.test(out)) {
    const { writeMidiFile } = await import('$lib/formats/write/midi');
    return writeMidiFile({ title, tempo, metre, notes: writtenTune(steps), markers: [] });
  }
  const notes = heardTune(setup, steps);
  const refused = refusedUnrendered(notes);
  if (refused !== undefined) throw new Refusal(`${out}: ${refused}`, 1);
  const [{ renderNotes }, { wavBytes }] = await Promise.all([
    import('$lib/rendering/renderSound'),
    import('$lib/formats/wav'),
  ]);
  const { left, right, sampleRate } = renderNotes(notes, { referenceHz: setup.referenceHz });
  return wavBytes([left, right], sampleRate);
}
