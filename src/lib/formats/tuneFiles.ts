/**
 * The kinds of files that a tune in its textures is written to, by their endings: one table for the page and
 * the command line. What writes a kind is loaded when it is first wanted.
 */
import type { Piece } from '$lib/arrange/piece';
import type { StruckStep } from '$lib/arrange/strike';
import type { FeelName } from '$lib/playing/band/feels';
import { heardTune } from '$lib/playing/tuneNotes';
import type { Setup } from '$lib/setup/setup';
import type { Paper } from './drawing';
import type { SheetCode } from './sheetCode';
import { tuneTab } from './tuneTab';

/** A tune's arrangement that is to be written. */
export interface WrittenTune {
  readonly setup: Setup;
  readonly piece: Piece;
  readonly steps: readonly StruckStep[];
  readonly paper: Paper;
  /** What leads from a sheet back to the screen; none where it is left out. */
  readonly code?: SheetCode | undefined;
  /** Who plays along, where it is heard: in MIDI and in sound. */
  readonly feel?: FeelName | undefined;
}

/** How files of a kind are written. */
export interface TuneFileKind {
  /** Without the dot, lower case. */
  readonly endings: readonly string[];
  /** For people: “tablature as text”. */
  readonly name: string;
  /** The media type of what is written. */
  readonly type: string;
  readonly write: (tune: WrittenTune) => Promise<Uint8Array>;
  /** What is to be said of a file as it is written, as a sentence. */
  readonly told?: (tune: WrittenTune) => Promise<string | undefined>;
  /** It is rendered, which takes seconds and has a limit. */
  readonly rendered?: boolean;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const drawn = async ({ setup, piece, steps, paper, code }: WrittenTune) => {
  const { tabDrawing } = await import('./tabDrawing');
  return tabDrawing(tuneTab(setup, piece, steps), paper, code);
};

/** Every kind of file that a tune is written to. */
export const TUNE_FILES: readonly TuneFileKind[] = [
  {
    endings: ['txt'],
    name: 'tablature as text',
    type: 'text/plain;charset=utf-8',
    write: async ({ setup, piece, steps }) => {
      const { tabText } = await import('./tabText');
      return bytesOf(tabText(tuneTab(setup, piece, steps)));
    },
  },
  {
    endings: ['svg'],
    name: 'tablature as a picture',
    type: 'image/svg+xml',
    write: async (tune) => {
      const [drawing, { svgText }] = await Promise.all([drawn(tune), import('./svg')]);
      return bytesOf(svgText(drawing));
    },
  },
  {
    endings: ['pdf'],
    name: 'tablature on paper',
    type: 'application/pdf',
    write: async (tune) => {
      const [drawing, { pdfBytes }] = await Promise.all([drawn(tune), import('./pdf')]);
      return pdfBytes(drawing);
    },
  },
  {
    endings: ['musicxml', 'xml'],
    name: 'a MusicXML score',
    type: 'application/vnd.recordare.musicxml+xml',
    write: async ({ setup, piece, steps }) => {
      const [{ writeMusicXml }, { tuneScore }] = await Promise.all([
        import('./write/musicXml'),
        import('./write/tuneScore'),
      ]);
      const { progression, played, named, piece: unrolled } = tuneScore(setup, piece, steps);
      return bytesOf(writeMusicXml(setup, progression, played, unrolled, named));
    },
  },
  {
    endings: ['mid', 'midi'],
    name: 'a MIDI file',
    type: 'audio/midi',
    write: async (tune) => (await import('./midiFiles')).tuneMidi(tune),
    told: async (tune) => (await import('./midiFiles')).toldOfTune(tune),
  },
  {
    endings: ['abc'],
    name: 'melody and steel part in ABC notation',
    type: 'text/vnd.abc;charset=utf-8',
    write: async ({ piece, steps }) => {
      const { tuneAbc } = await import('./write/tuneAbc');
      return bytesOf(tuneAbc(piece, steps));
    },
  },
  {
    endings: ['wav'],
    name: 'the sound',
    type: 'audio/wav',
    rendered: true,
    write: async ({ setup, piece, steps, feel }) => {
      const [{ renderNotes }, { wavBytes }, { bandForTune }] = await Promise.all([
        import('$lib/rendering/renderSound'),
        import('./wav'),
        import('$lib/playing/band/bandFor'),
      ]);
      const { referenceHz } = setup;
      const { left, right, sampleRate } = renderNotes(heardTune(setup, steps), {
        referenceHz,
        band: bandForTune(piece, feel),
      });
      return wavBytes([left, right], sampleRate);
    },
  },
];

/** The kind that a file's name speaks of. */
export function tuneFileKind(name: string): TuneFileKind | undefined {
  const ending = /\.([a-z0-9]+)$/i.exec(name)?.[1]?.toLowerCase() ?? '';
  return TUNE_FILES.find(({ endings }) => endings.includes(ending));
}

/** `.txt, .svg, .pdf`: all endings that a tune is written to. */
export const TUNE_ENDINGS = TUNE_FILES.flatMap(({ endings }) =>
  endings.map((ending) => `.${ending}`),
).join(', ');
