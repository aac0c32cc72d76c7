/** What a file carries that the device handed over: a setup, a piece, or a text that may be a chart. */
import { progressionFaultText } from '$lib/arrange/progression';
import { pieceOf } from '$lib/arrange/pieceOf';
import { faultText } from '$lib/faults';
import { isTuneFile, kindOfFile, readProgressionFile } from '$lib/formats/progressionFiles';
import { ok, refuse, type Result } from '$lib/result';
import { readSetupText } from '$lib/setup/readSetup';
import { progressionKind } from '$lib/storage/progressionKind';
import { textOf } from '$lib/storage/textFile';
import type { LinkContent, Refused } from './linkContent';

/** A text that is neither: it is read as a chart, where its doubts can be settled. */
export interface PerhapsChart {
  readonly kind: 'chart';
}

const MOST_TOLD = 20;

/** Plain text may be anything. */
const PLAIN = /\.txt$/iu;
/** Bar lines between words, or an ABC tune: without them a text is no piece. */
const IN_MEASURES = /^[^\n]*[^\s|][^\n]*\|[^\n]*[^\s|]|^X:\s*\d/mu;

/** Text that begins like the program's own files. */
const isOwn = (text: string): boolean => /^\uFEFF?\s*\{/u.test(text);

function ownIn(name: string, text: string): Result<LinkContent, Refused> {
  const setup = readSetupText(text);
  if (setup.ok) return ok({ kind: 'setup', setup: setup.value });
  const progression = progressionKind.read(text);
  if (progression.ok) return ok({ kind: 'progression', progression: progression.value });
  // a piece says its chords; anything else was meant as a setup
  const faults = /"chords"\s*:/u.test(text) ? progression.error : setup.error;
  return refuse({
    sentence: `${name} cannot be opened:`,
    faults: faults.slice(0, MOST_TOLD).map(faultText),
  });
}

/**
 * Reads a file by its name and what is in it.
 *
 * @param setup id of the setup that a score is arranged on
 */
export async function contentOfFile(
  file: File,
  setup: string,
): Promise<Result<LinkContent | PerhapsChart, Refused>> {
  const { name } = file;
  const isScore = kindOfFile(name)?.read !== undefined || isTuneFile(name);
  if (!isScore || PLAIN.test(name)) {
    const text = await textOf(file);
    if (!text.ok)
      return refuse({ sentence: `${name} cannot be opened:`, faults: text.error.map(faultText) });
    if (isOwn(text.value)) return ownIn(name, text.value);
    if (!isScore || !IN_MEASURES.test(text.value)) return ok({ kind: 'chart' });
  }
  const read = await readProgressionFile({
    name,
    size: file.size,
    bytes: async () => new Uint8Array(await file.arrayBuffer()),
  });
  if (!read.ok)
    return refuse({ sentence: `${name} cannot be opened:`, faults: [faultText(read.error)] });
  const { progression, piece = pieceOf(progression), faults } = read.value;
  // a table of strings and pulls has lines between its columns too, and is no piece
  if (PLAIN.test(name) && faults.length > 0) return ok({ kind: 'chart' });
  if (piece.measures.length === 0)
    return refuse({
      sentence: `${name} holds no chords:`,
      faults: faults.slice(0, MOST_TOLD).map(progressionFaultText),
    });
  return ok({ kind: 'progression', progression: { setup, piece, wishes: {} } });
}
