/** Writes an arrangement of chords or of a tune to a file: as it is struck, with staves where they are asked for. */
import type { ArrangedStep, ArrangedWay } from '$lib/arrange/arrange';
import type { Piece } from '$lib/arrange/piece';
import type { Progression } from '$lib/arrange/progression';
import type { StruckStep } from '$lib/arrange/strike';
import type { Wishes } from '$lib/arrange/wishes';
import type { Drawing, Paper } from '$lib/formats/drawing';
import { endingsFor, kindOfFile } from '$lib/formats/progressionFiles';
import type { SheetCode } from '$lib/formats/sheetCode';
import { TUNE_ENDINGS, tuneFileKind } from '$lib/formats/tuneFiles';
import type { FeelName } from '$lib/playing/band/feels';
import { heardNotes } from '$lib/playing/performance';
import { struckChords } from '$lib/playing/struckChords';
import { heardTune } from '$lib/playing/tuneNotes';
import { refusedUnrendered } from '$lib/rendering/renderSound';
import type { Setup } from '$lib/setup/setup';
import { CHORD_SIGNS, type ChordSigns } from '$lib/theory/chordSigns';
import { writeOut } from './files';
import { Refusal } from './out';

/** How it is to be written. */
export interface Writing {
  readonly out?: string | undefined;
  readonly paper: Paper;
  /** Staves above the tablature; nothing where they are not asked for. */
  readonly staff: ChordSigns | undefined;
  /** Who plays along, where it is heard. */
  readonly feel: FeelName | undefined;
  /** What leads from a sheet back to the screen. */
  readonly code: SheetCode;
}

/** How staves are written on paper, by the file's ending. */
const STAVES: Readonly<Record<string, (drawing: Drawing) => Promise<Uint8Array>>> = {
  pdf: async (drawing) => (await import('$lib/formats/pdf')).pdfBytes(drawing),
  svg: async (drawing) =>
    new TextEncoder().encode((await import('$lib/formats/svg')).svgText(drawing)),
};
const endingOf = (name: string): string => /\.([a-z0-9]+)$/iu.exec(name)?.[1]?.toLowerCase() ?? '';

/** How staves are asked for; refused where chords cannot be written so, or nothing is written. */
export function staffAsked(
  staff: boolean | undefined,
  signs: string | undefined,
  out: string | undefined,
): ChordSigns | undefined {
  const written = CHORD_SIGNS.find((each) => each === (signs ?? 'letters'));
  if (written === undefined)
    throw new Refusal(`--signs: found “${signs}”; allowed are ${CHORD_SIGNS.join(', ')}.`, 2);
  if (staff !== true) {
    if (signs !== undefined)
      throw new Refusal('--signs: chords are written so above staves, with --staff.', 2);
    return undefined;
  }
  if (out === undefined || !(endingOf(out) in STAVES))
    throw new Refusal(
      `--staff: staves are written to a file; allowed is --out with .${Object.keys(STAVES).join(' or .')}.`,
      2,
    );
  return written;
}

/** Why nothing is written to a file of such a name; `undefined` where it may be. */
export function refusedOut(name: string, isTune: boolean): string | undefined {
  if (isTune)
    return tuneFileKind(name) === undefined
      ? `--out: found “${name}”; allowed are files that end in ${TUNE_ENDINGS} with a texture.`
      : undefined;
  return kindOfFile(name)?.write === undefined
    ? `--out: found “${name}”; allowed are files that end in ${endingsFor('write')}.`
    : undefined;
}

/** What a file is, with what else is to be said of it; whoever says it ends the sentence. */
const named = (name: string, told: string | undefined): string =>
  told === undefined ? name : `${name}. ${told.replace(/\.$/u, '')}`;

/** Writes what is struck. @returns what the file is, for people; nothing where no file is asked for */
export async function writeStruck(
  tune: { readonly setup: Setup; readonly piece: Piece; readonly steps: readonly StruckStep[] },
  { out, paper, staff, feel, code }: Writing,
): Promise<string | undefined> {
  if (out === undefined) return undefined;
  if (staff !== undefined) {
    const { drawnStaff } = await import('./staffFile');
    const bytes = await STAVES[endingOf(out)]?.(drawnStaff({ ...tune, signs: staff }, paper, code));
    if (bytes === undefined) throw new Error(`no staves in ${out}`);
    await writeOut(out, bytes);
    return 'staff and tablature';
  }
  const kind = tuneFileKind(out);
  if (kind === undefined) throw new Error(`no writer for ${out}`);
  const refused =
    kind.rendered === true ? refusedUnrendered(heardTune(tune.setup, tune.steps)) : undefined;
  if (refused !== undefined) throw new Refusal(`${out}: ${refused}`, 1);
  const written = { ...tune, paper, feel, code };
  await writeOut(out, await kind.write(written));
  return named(kind.name, await kind.told?.(written));
}

/** An arrangement of chords. */
interface Chords {
  readonly setup: Setup;
  readonly progression: Progression;
  readonly piece: Piece | undefined;
  readonly way: ArrangedWay;
  readonly wishes: Wishes;
}

/** Chords as they are struck, in the measures of their piece. */
export const chordsStruck = (
  { setup, progression, piece, wishes }: Omit<Chords, 'way'>,
  steps: readonly ArrangedStep[],
) => struckChords(setup, progression, steps, wishes.strikes, piece);

/** Writes chords: as they are struck where that is wished, else with the form of their piece. */
export async function writeChords(chords: Chords, writing: Writing): Promise<string | undefined> {
  const { setup, progression, piece, way, wishes } = chords;
  const { out, paper, staff, feel, code } = writing;
  if (out === undefined) return undefined;
  const isStruck = wishes.strikes !== undefined && tuneFileKind(out) !== undefined;
  if (isStruck || staff !== undefined) {
    const { piece: played, struck } = chordsStruck(chords, way.steps);
    return writeStruck({ setup, piece: played, steps: struck }, writing);
  }
  const kind = kindOfFile(out);
  if (kind?.write === undefined) throw new Error(`no writer for ${out}`);
  const written = {
    ...{ setup, progression, way, paper, feel, code },
    ...(piece === undefined ? {} : { piece }),
  };
  const refused = kind.rendered === true ? refusedUnrendered(heardNotes(written)) : undefined;
  if (refused !== undefined) throw new Refusal(`${out}: ${refused}`, 1);
  await writeOut(out, await kind.write(written));
  return named(kind.name, await kind.told?.(written));
}
