/**
 * Files with progressions, by the ending of their names. The readers of notation are fetched when
 * such a file is opened, and not before.
 */
import { ok, refuse, type Result } from '$lib/result';
import type { ReadProgression } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { isSongText, readChordPro } from './chordPro';

type Read = Result<ReadProgression, string>;

interface FileKind {
  /** For people. */
  readonly name: string;
  readonly endings: readonly string[];
  /** A larger file is refused unread. */
  readonly mostBytes: number;
  readonly read: (bytes: Uint8Array) => Promise<Read> | Read;
}

const TEXT_BYTES = 2_000_000;
const SCORE_BYTES = 20_000_000;

/** UTF-8, or UTF-16 where the file says so by its first two bytes. */
function textFrom(bytes: Uint8Array): Result<string, string> {
  const [first, second] = bytes;
  const coding =
    first === 0xff && second === 0xfe
      ? 'utf-16le'
      : first === 0xfe && second === 0xff
        ? 'utf-16be'
        : 'utf-8';
  try {
    return ok(new TextDecoder(coding, { fatal: true }).decode(bytes));
  } catch {
    return refuse('It is not text in UTF-8.');
  }
}

const fromText =
  (read: (text: string) => Promise<Read> | Read) =>
  (bytes: Uint8Array): Promise<Read> | Read => {
    const text = textFrom(bytes);
    return text.ok ? read(text.value) : text;
  };

async function musicXml(text: string): Promise<Read> {
  const { readMusicXml } = await import('./musicXml');
  return readMusicXml(text);
}

export const FILE_KINDS: readonly FileKind[] = [
  {
    name: 'plain text',
    endings: ['txt', 'text'],
    mostBytes: TEXT_BYTES,
    read: fromText((text) => ok(isSongText(text) ? readChordPro(text) : readProgression(text))),
  },
  {
    name: 'ChordPro',
    endings: ['cho', 'crd', 'chopro', 'chordpro', 'chord', 'pro'],
    mostBytes: TEXT_BYTES,
    read: fromText((text) => ok(readChordPro(text))),
  },
  {
    name: 'ABC',
    endings: ['abc'],
    mostBytes: TEXT_BYTES,
    read: fromText(async (text) => {
      const { readAbc } = await import('./abc');
      return ok(readAbc(text));
    }),
  },
  {
    name: 'MusicXML',
    endings: ['musicxml', 'xml'],
    mostBytes: SCORE_BYTES,
    read: fromText(musicXml),
  },
  {
    name: 'compressed MusicXML',
    endings: ['mxl'],
    mostBytes: SCORE_BYTES,
    read: async (bytes) => {
      const { readMxl } = await import('./mxl');
      const text = readMxl(bytes);
      return text.ok ? musicXml(text.value) : text;
    },
  },
];

const endingOf = (name: string): string => /\.([^./\\]+)$/u.exec(name)?.[1]?.toLowerCase() ?? '';

const megabytes = (bytes: number): string => `${String(Math.ceil(bytes / 100_000) / 10)} MB`;

/** Why a file is not read, whatever is in it; `undefined` where it may be. */
export function refusedUnread(name: string, size: number): string | undefined {
  const ending = endingOf(name);
  if (ending === 'mid' || ending === 'midi')
    return 'A MIDI file holds notes and no chord symbols; open it as the melody of a progression.';
  const kind = FILE_KINDS.find(({ endings }) => endings.includes(ending));
  if (kind === undefined) {
    const known = FILE_KINDS.flatMap(({ endings }) => endings.map((each) => `.${each}`)).join(' ');
    return `Files that end in ${ending === '' ? 'nothing' : `.${ending}`} are not read; those that are end in ${known}.`;
  }
  return size > kind.mostBytes
    ? `The file has ${megabytes(size)}; allowed are ${megabytes(kind.mostBytes)} for ${kind.name}.`
    : undefined;
}

/** Reads a file by its ending: as much as can be read, or the reason why nothing can. */
export async function readProgressionFile(name: string, bytes: Uint8Array): Promise<Read> {
  const refused = refusedUnread(name, bytes.length);
  if (refused !== undefined) return refuse(refused);
  const ending = endingOf(name);
  const kind = FILE_KINDS.find(({ endings }) => endings.includes(ending));
  if (kind === undefined) throw new Error(`no reader for ${name}`);
  return kind.read(bytes);
}
