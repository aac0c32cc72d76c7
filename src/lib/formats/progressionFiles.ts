/**
 * The kinds of files that a progression comes from and goes to, by their endings: one table for the
 * page and the command line. What reads or writes a kind is loaded when it is first wanted.
 */
import type { ArrangedWay } from '$lib/arrange/arrange';
import {
  DEFAULT_METRE,
  DEFAULT_TEMPO,
  type Progression,
  type ReadProgression,
} from '$lib/arrange/progression';
import { refuse, ok, type Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import { markersOf, playedSteps } from './arrangedScore';
import { tabPieceOf } from './arrangedTab';
import type { Paper } from './drawing';
import { textFrom } from './read/text';
import type { MidiNote } from './write/midi';

/** A progression with the way through it that is meant. */
export interface ArrangedPiece {
  readonly setup: Setup;
  readonly progression: Progression;
  readonly way: ArrangedWay;
  readonly paper: Paper;
  /** What is played, string by string, in seconds. */
  readonly notes: () => readonly MidiNote[];
}

export interface FileKind {
  /** Without the dot, lower case. */
  readonly endings: readonly string[];
  /** For people: "tablature as text". */
  readonly name: string;
  /** The media type of what is written. */
  readonly type: string;
  /** A larger file is refused unread. */
  readonly mostBytes?: number;
  /** A file that cannot be read at all is refused with a sentence. */
  readonly read?: (bytes: Uint8Array) => Promise<Result<ReadProgression, string>>;
  readonly write?: (piece: ArrangedPiece) => Promise<Uint8Array>;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const TEXT_BYTES = 2_000_000;
const SCORE_BYTES = 20_000_000;

type Read = Result<ReadProgression, string>;

/** A reader of text as one of bytes. */
const fromText =
  (read: (text: string) => Promise<Read>) =>
  (bytes: Uint8Array): Promise<Read> => {
    const text = textFrom(bytes);
    return text.ok ? read(text.value) : Promise.resolve(text);
  };

async function readScore(text: string): Promise<Read> {
  const { readMusicXml } = await import('./read/musicXml');
  return readMusicXml(text);
}

async function readSong(text: string): Promise<Read> {
  const { readChordPro } = await import('./read/chordPro');
  return ok(readChordPro(text));
}

const drawn = async ({ setup, progression, way, paper }: ArrangedPiece) => {
  const { tabDrawing } = await import('./tabDrawing');
  return tabDrawing(tabPieceOf(setup, progression, way), paper);
};

/** Every kind of file that progressions are read from or written to. */
export const FILE_KINDS: readonly FileKind[] = [
  {
    endings: ['txt'],
    name: 'tablature as text',
    type: 'text/plain;charset=utf-8',
    mostBytes: TEXT_BYTES,
    read: fromText(async (text) => {
      const { isSongText } = await import('./read/chordPro');
      if (isSongText(text)) return readSong(text);
      const { readProgression } = await import('$lib/arrange/readText');
      return ok(readProgression(text));
    }),
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
  {
    endings: ['musicxml', 'xml'],
    name: 'a MusicXML score',
    type: 'application/vnd.recordare.musicxml+xml',
    mostBytes: SCORE_BYTES,
    read: fromText(readScore),
    write: async ({ setup, progression, way }) => {
      const { writeMusicXml } = await import('./write/musicXml');
      return bytesOf(writeMusicXml(setup, progression, playedSteps(progression, way.steps)));
    },
  },
  {
    endings: ['mxl'],
    name: 'a compressed MusicXML score',
    type: 'application/vnd.recordare.musicxml',
    mostBytes: SCORE_BYTES,
    read: async (bytes) => {
      const { readMxl } = await import('./read/mxl');
      const text = readMxl(bytes);
      return text.ok ? readScore(text.value) : text;
    },
  },
  {
    endings: ['mid', 'midi'],
    name: 'a MIDI file',
    type: 'audio/midi',
    write: async ({ progression, notes }) => {
      const { writeMidiFile } = await import('./write/midi');
      const { title = 'Progression', tempo = DEFAULT_TEMPO, metre = DEFAULT_METRE } = progression;
      return writeMidiFile({
        title,
        tempo,
        metre,
        notes: notes(),
        markers: markersOf(progression),
      });
    },
  },
  {
    endings: ['abc'],
    name: 'the chords in ABC notation',
    type: 'text/vnd.abc;charset=utf-8',
    mostBytes: TEXT_BYTES,
    read: fromText(async (text) => {
      const { readAbc } = await import('./read/abc');
      return ok(readAbc(text));
    }),
    write: async ({ progression }) => {
      const { writeAbc } = await import('./write/abc');
      return bytesOf(writeAbc(progression));
    },
  },
  {
    endings: ['cho', 'chordpro', 'chopro', 'crd', 'pro'],
    name: 'the chords in ChordPro',
    type: 'text/plain;charset=utf-8',
    mostBytes: TEXT_BYTES,
    read: fromText(readSong),
    write: async ({ progression }) => {
      const { writeChordPro } = await import('./write/chordPro');
      return bytesOf(writeChordPro(progression));
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

const megabytes = (bytes: number): string => `${String(Math.ceil(bytes / 100_000) / 10)} MB`;

/** Why a file is not read, whatever is in it; `undefined` where it may be. */
export function refusedUnread(name: string, bytes: number): string | undefined {
  const kind = kindOfFile(name);
  if (kind?.endings.includes('mid'))
    return 'A MIDI file holds notes and no chord symbols; open it as the melody of a progression.';
  if (kind?.read === undefined || kind.mostBytes === undefined)
    return `Files of this kind are not read; those that are end in ${endingsFor('read')}.`;
  return bytes > kind.mostBytes
    ? `The file has ${megabytes(bytes)}; allowed are ${megabytes(kind.mostBytes)}.`
    : undefined;
}

/** Reads a file by its ending: as much as can be read, or the reason why nothing can. */
export async function readProgressionFile(name: string, bytes: Uint8Array): Promise<Read> {
  const refused = refusedUnread(name, bytes.length);
  if (refused !== undefined) return refuse(refused);
  const read = kindOfFile(name)?.read;
  if (read === undefined) throw new Error(`no reader for ${name}`);
  return read(bytes);
}
