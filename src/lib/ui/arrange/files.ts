/** Files that a progression comes from and goes to, as the page opens and saves them. */
import { pieceOf } from '$lib/arrange/pieceOf';
import { notTakenText, progressionFaultText, type Progression } from '$lib/arrange/progression';
import type { DocumentFault } from '$lib/faults';
import type { ArrangedWay } from '$lib/arrange/arrange';
import {
  FILE_KINDS,
  endingsFor,
  isTuneFile,
  readProgressionFile,
  readTuneFile,
  type FileKind,
  type FileToRead,
} from '$lib/formats/progressionFiles';
import { refuse, ok, type Result } from '$lib/result';
import { fileNameOf, saveFile } from '$lib/ui/paper/saving';
import { reasonOf } from '$lib/ui/parts/reason';
import { usualPaper } from '$lib/ui/paper/usualPaper';
import type { Piece } from '$lib/arrange/piece';
import type { Answered } from './progression.svelte';

/** The ending that a pasted text would have as a file; nothing where it is a progression as it is. */
export function kindOfText(text: string): 'cho' | 'abc' | undefined {
  if (/^X:\s*\d/mu.test(text) && /^K:/mu.test(text)) return 'abc';
  // a directive in braces, or a chord in brackets within a line of words
  if (/^[ \t]*\{[ \t]*[a-z_]+[ \t]*[:}]/imu.test(text)) return 'cho';
  return /(\p{L}|\s)\[[A-G][^\][\s]*\]|\[[A-G][^\][\s]*\]\p{L}/mu.test(text) ? 'cho' : undefined;
}

/** What `accept` of a file field takes. */
export const READABLE = `${endingsFor('read')}, .mid, .midi`;

/** Sound is saved where it is played. */
export const WRITABLE = FILE_KINDS.filter(
  ({ write, rendered = false }) => write !== undefined && !rendered,
);

interface Opened {
  readonly piece: Piece;
  /** What is wrong in it, a sentence each. */
  readonly unread: readonly string[];
  /** What of it has no place here; nothing is wrong with that. */
  readonly notTaken: readonly string[];
}

/** A fault as a sentence behind the file's name, which the page says. */
const sentenceOf = ({ path, found, allowed }: DocumentFault): string =>
  `${path === '' ? '' : `${path}: `}found ${found}; allowed is ${allowed}.`;

const toRead = (file: File): FileToRead => ({
  name: file.name,
  size: file.size,
  bytes: async () => new Uint8Array(await file.arrayBuffer()),
});

/** A tune under the chords that are there already; a MIDI file has no chords of its own. */
async function withTuneOf(
  file: File,
  progression: Progression,
  written: Piece,
): Promise<Result<Opened, string>> {
  const tune = await readTuneFile(toRead(file));
  if (!tune.ok) return refuse(sentenceOf(tune.error));
  const [{ besideTune }, { withMelodyOf }] = await Promise.all([
    import('$lib/formats/read/midi'),
    import('$lib/formats/read/midiMelody'),
  ]);
  const { piece, notTaken } = withMelodyOf(written, tune.value);
  const beside = [...besideTune(progression, tune.value), ...notTaken];
  return ok({ piece, unread: [], notTaken: beside.map(notTakenText) });
}

async function textIn(
  file: File,
  there: Progression,
  written: Piece,
): Promise<Result<Opened, string>> {
  if (isTuneFile(file.name)) return withTuneOf(file, there, written);
  const read = await readProgressionFile(toRead(file));
  if (!read.ok) return refuse(sentenceOf(read.error));
  const { progression, piece = pieceOf(progression), faults, notTaken = [] } = read.value;
  return ok({
    piece,
    unread: faults.map(progressionFaultText),
    notTaken: notTaken.map(notTakenText),
  });
}

/**
 * The text of a file's progression, and what of the file could not be read. A MIDI file gives its
 * tune to the progression that is there.
 */
export async function openedText(
  file: File,
  there: Progression,
  written: Piece = pieceOf(there),
): Promise<Result<Opened, string>> {
  try {
    return await textIn(file, there, written);
  } catch (error) {
    return refuse(`The file could not be read: ${reasonOf(error)}.`);
  }
}

/** Saves the way on show; pitches as written, in equal temperament. Refused where it cannot be written. */
export async function saveWay(
  kind: FileKind,
  answered: Answered,
  way: ArrangedWay,
): Promise<Result<undefined, string>> {
  try {
    const { setup, progression, piece } = answered;
    const paper = usualPaper(navigator.language);
    const { answeredCode } = await import('$lib/ui/paper/codes');
    const code = await answeredCode(answered);
    const bytes = await kind.write?.({
      ...{ setup, progression, way, paper, code },
      ...(piece === undefined ? {} : { piece }),
    });
    if (bytes !== undefined)
      saveFile(
        fileNameOf(progression.title ?? 'Progression', kind.endings[0] ?? 'txt'),
        kind.type,
        bytes,
      );
    return ok(undefined);
  } catch (error) {
    return refuse(`The file could not be written: ${reasonOf(error)}.`);
  }
}
