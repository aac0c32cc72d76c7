/**
 * The kinds of files that a progression comes from and goes to, by their endings: one table for the
 * page and the command line. What reads or writes a kind is loaded when it is first wanted.
 */
import type { ArrangedWay } from '$lib/arrange/arrange';
import type { Progression, ReadProgression } from '$lib/arrange/progression';
import { refuse, ok, type Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import { tabPieceOf } from './arrangedTab';
import type { Paper } from './drawing';

/** A progression with the way through it that is meant. */
export interface ArrangedPiece {
  readonly setup: Setup;
  readonly progression: Progression;
  readonly way: ArrangedWay;
  readonly paper: Paper;
}

export interface FileKind {
  /** Without the dot, lower case. */
  readonly endings: readonly string[];
  /** For people: "tablature as text". */
  readonly name: string;
  /** The media type of what is written. */
  readonly type: string;
  /** A file that cannot be read at all is refused with a sentence. */
  readonly read?: (bytes: Uint8Array) => Promise<Result<ReadProgression, string>>;
  readonly write?: (piece: ArrangedPiece) => Promise<Uint8Array>;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Larger texts hold no progression. */
const MOST_TEXT_BYTES = 1_000_000;

/** The text of a file, or why it has none. */
export function textOf(bytes: Uint8Array): Result<string, string> {
  if (bytes.length > MOST_TEXT_BYTES)
    return refuse('it is larger than a megabyte, and no progression is');
  try {
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refuse('it is not text in UTF-8');
  }
}

const drawn = async ({ setup, progression, way, paper }: ArrangedPiece) => {
  const { tabDrawing } = await import('./tabDrawing');
  return tabDrawing(tabPieceOf(setup, progression, way), paper);
};

export const FILE_KINDS: readonly FileKind[] = [
  {
    endings: ['txt'],
    name: 'tablature as text',
    type: 'text/plain;charset=utf-8',
    read: async (bytes) => {
      const text = textOf(bytes);
      if (!text.ok) return text;
      const { readProgression } = await import('$lib/arrange/readText');
      return ok(readProgression(text.value));
    },
    write: async ({ setup, progression, way }) => {
      const { tabText } = await import('./tabText');
      return bytesOf(tabText(tabPieceOf(setup, progression, way)));
    },
  },
  {
    endings: ['svg'],
    name: 'tablature as a picture',
    type: 'image/svg+xml',
    write: async (piece) => {
      const [drawing, { svgText }] = await Promise.all([drawn(piece), import('./svg')]);
      return bytesOf(svgText(drawing));
    },
  },
  {
    endings: ['pdf'],
    name: 'tablature on paper',
    type: 'application/pdf',
    write: async (piece) => {
      const [drawing, { pdfBytes }] = await Promise.all([drawn(piece), import('./pdf')]);
      return pdfBytes(drawing);
    },
  },
];

/** The kind that a file's name speaks of. */
export function kindOfFile(name: string): FileKind | undefined {
  const ending = /\.([a-z0-9]+)$/i.exec(name)?.[1]?.toLowerCase() ?? '';
  return FILE_KINDS.find(({ endings }) => endings.includes(ending));
}

/** `.txt, .svg, .pdf`: the endings that can be read, or written. */
export const endingsFor = (what: 'read' | 'write'): string =>
  FILE_KINDS.filter((kind) => kind[what] !== undefined)
    .flatMap(({ endings }) => endings.map((ending) => `.${ending}`))
    .join(', ');
