/**
 * The kinds of files that a progression comes from and goes to, by their endings: one table for the
 * page and the command line. What reads or writes a kind is loaded when it is first wanted.
 */
import type { ArrangedWay } from '$lib/arrange/arrange';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { Progression, ReadProgression } from '$lib/arrange/progression';
import { fault, guarded } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { refuse, ok, type Result } from '$lib/result';
import type { FeelName } from '$lib/playing/band/feels';
import type { Setup } from '$lib/setup/setup';
import type { Paper } from './drawing';
import type { SheetCode } from './sheetCode';
import type { MidiTune } from './read/midi';
import { textFrom } from './read/text';

/** A progression with the way through it that is meant. */
export interface ArrangedPiece {
  readonly setup: Setup;
  readonly progression: Progression;
  /** The same as it is written, where it has a form: chords and tune are written in it. */
  readonly piece?: Piece;
  readonly way: ArrangedWay;
  readonly paper: Paper;
  /** What leads from a sheet back to the screen; none where it is left out. */
  readonly code?: SheetCode | undefined;
  /** Who plays along, where it is heard: in MIDI and in sound. */
  readonly feel?: FeelName | undefined;
}

type Read<T> = Result<T, DocumentFault>;

/** How files of a kind are read. */
interface Reading<T> {
  /** What such a file holds: “a tune in ABC notation”. */
  readonly what: string;
  /** A larger file is refused unread. */
  readonly mostBytes: number;
  /** Fetches the reader. A file that cannot be read at all is refused with its fault. */
  readonly reader: () => Promise<(bytes: Uint8Array) => Read<T>>;
}

export interface FileKind {
  /** Without the dot, lower case. */
  readonly endings: readonly string[];
  /** For people: "tablature as text". */
  readonly name: string;
  /** The media type of what is written. */
  readonly type: string;
  readonly read?: Reading<ReadProgression>;
  readonly write?: (piece: ArrangedPiece) => Promise<Uint8Array>;
  /** What is to be said of a file as it is written, as a sentence. */
  readonly told?: (piece: ArrangedPiece) => Promise<string | undefined>;
  /** It is rendered, which takes seconds and has a limit (`refusedUnrendered`); a page has its own worker. */
  readonly rendered?: boolean;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Chords or words of one piece. */
const SONG_BYTES = 500_000;
/** A book of tunes, of which the first is read; and a tune in MIDI. */
const TUNE_BYTES = 2_000_000;
const SCORE_BYTES = 20_000_000;

/** A reader of text as one of bytes. */
const fromText =
  (read: (text: string) => Read<ReadProgression>) =>
  (bytes: Uint8Array): Read<ReadProgression> => {
    const text = textFrom(bytes);
    return text.ok ? read(text.value) : text;
  };

const drawn = async ({ setup, progression, piece, way, paper, code }: ArrangedPiece) => {
  const [{ tabDrawing }, { tabPieceOf }] = await Promise.all([
    import('./tabDrawing'),
    import('./arrangedTab'),
  ]);
  return tabDrawing(tabPieceOf(setup, progression, way, piece), paper, code);
};

/** Every kind of file that progressions are read from or written to. */
export const FILE_KINDS: readonly FileKind[] = [
  {
    endings: ['txt'],
    name: 'tablature as text',
    type: 'text/plain;charset=utf-8',
    read: {
      what: 'chords in bars, or a song text',
      mostBytes: SONG_BYTES,
      reader: async () => {
        const [{ isSongText, readChordPro }, { readProgression }] = await Promise.all([
          import('./read/chordPro'),
          import('$lib/arrange/readText'),
        ]);
        return fromText((text) =>
          ok(isSongText(text) ? readChordPro(text) : readProgression(text)),
        );
      },
    },
    write: async ({ setup, progression, piece, way }) => {
      const [{ tabText }, { tabPieceOf }] = await Promise.all([
        import('./tabText'),
        import('./arrangedTab'),
      ]);
      return bytesOf(tabText(tabPieceOf(setup, progression, way, piece)));
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
    read: {
      what: 'a MusicXML score',
      mostBytes: SCORE_BYTES,
      reader: async () => fromText((await import('./read/musicXml')).readMusicXml),
    },
    write: async ({ setup, progression, piece, way }) => {
      const [{ writeMusicXml }, { formOf }, { playedSteps }] = await Promise.all([
        import('./write/musicXml'),
        import('./arrangedForm'),
        import('./arrangedScore'),
      ]);
      const form = formOf(setup, progression, way.steps, piece);
      return bytesOf(writeMusicXml(setup, form.progression, playedSteps(form), form.piece));
    },
  },
  {
    endings: ['mxl'],
    name: 'a compressed MusicXML score',
    type: 'application/vnd.recordare.musicxml',
    read: {
      what: 'a compressed MusicXML score',
      mostBytes: SCORE_BYTES,
      reader: async () => {
        const [{ readMxl }, { readMusicXml }] = await Promise.all([
          import('./read/mxl'),
          import('./read/musicXml'),
        ]);
        return (bytes) => {
          const text = readMxl(bytes);
          return text.ok ? readMusicXml(text.value) : text;
        };
      },
    },
  },
  {
    endings: ['mid', 'midi'],
    name: 'a MIDI file',
    type: 'audio/midi',
    write: async (piece) => (await import('./midiFiles')).arrangedMidi(piece),
    told: async (piece) => (await import('./midiFiles')).toldOfArranged(piece),
  },
  {
    endings: ['wav'],
    name: 'the sound',
    type: 'audio/wav',
    rendered: true,
    write: async (piece) => {
      const [{ renderNotes }, { wavBytes }, { heardNotes }, { bandFor }] = await Promise.all([
        import('$lib/rendering/renderSound'),
        import('./wav'),
        import('$lib/playing/performance'),
        import('$lib/playing/band/bandFor'),
      ]);
      const { referenceHz } = piece.setup;
      const { left, right, sampleRate } = renderNotes(heardNotes(piece), {
        referenceHz,
        band: bandFor(piece),
      });
      return wavBytes([left, right], sampleRate);
    },
  },
  {
    endings: ['abc'],
    name: 'the chords in ABC notation',
    type: 'text/vnd.abc;charset=utf-8',
    read: {
      what: 'a tune in ABC notation',
      mostBytes: TUNE_BYTES,
      reader: async () => fromText((await import('./read/abc')).readAbc),
    },
    write: async ({ progression, piece }) => {
      const { writeAbc } = await import('./write/abc');
      return bytesOf(writeAbc(piece ?? pieceOf(progression)));
    },
  },
  {
    endings: ['cho', 'chordpro', 'chopro', 'crd', 'pro'],
    name: 'the chords in ChordPro',
    type: 'text/plain;charset=utf-8',
    read: {
      what: 'a song text in ChordPro',
      mostBytes: SONG_BYTES,
      reader: async () => {
        const { readChordPro } = await import('./read/chordPro');
        return fromText((text) => ok(readChordPro(text)));
      },
    },
    write: async ({ progression, piece }) => {
      const { writeChordPro } = await import('./write/chordPro');
      return bytesOf(writeChordPro(piece ?? pieceOf(progression)));
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

/** How the tune of a MIDI file is read, which a progression takes for its melody. */
const TUNE: Reading<MidiTune> = {
  what: 'a MIDI file',
  mostBytes: TUNE_BYTES,
  reader: async () => (await import('./read/midi')).readMidiTune,
};

/** Whether a file is one of notes alone, by its name. */
export const isTuneFile = (name: string): boolean => /\.midi?$/iu.test(name);

const tooLarge = (bytes: number, { mostBytes }: Reading<unknown>): DocumentFault | undefined =>
  bytes > mostBytes ? fault('file.tooLarge', '', bytes, mostBytes) : undefined;

/** A file that may be read: its bytes are fetched when its name and its size are in order. */
export interface FileToRead {
  readonly name: string;
  readonly size: number;
  readonly bytes: () => Uint8Array | Promise<Uint8Array>;
}

/** Why a file is not read, whatever is in it; `undefined` where it may be. */
export function refusedUnread(name: string, bytes: number): DocumentFault | undefined {
  const read = kindOfFile(name)?.read;
  if (read !== undefined) return tooLarge(bytes, read);
  return isTuneFile(name)
    ? fault('file.notesOnly', '')
    : fault('file.kind', '', endingsFor('read'));
}

async function readBy<T>({ what, reader }: Reading<T>, bytes: Uint8Array): Promise<Read<T>> {
  const read = await reader();
  return guarded(
    what,
    (senseless) => senseless,
    () => read(bytes),
  );
}

/** Reads a file by its ending: as much as can be read, or the fault because of which nothing can. */
export async function readProgressionFile({
  name,
  size,
  bytes,
}: FileToRead): Promise<Read<ReadProgression>> {
  const refused = refusedUnread(name, size);
  if (refused !== undefined) return refuse(refused);
  const read = kindOfFile(name)?.read;
  if (read === undefined) throw new Error(`no reader for ${name}`);
  return readBy(read, await bytes());
}

/** Reads the tune of a MIDI file, or gives the fault because of which there is none. */
export async function readTuneFile({ size, bytes }: FileToRead): Promise<Read<MidiTune>> {
  const refused = tooLarge(size, TUNE);
  return refused === undefined ? readBy(TUNE, await bytes()) : refuse(refused);
}
