/** The piece that `gripwright arrange` is to arrange: typed, or from a file, with a melody, in a key. */
import { pieceInLetters } from '$lib/arrange/calledText';
import { withMelody } from '$lib/arrange/melody';
import type { Piece } from '$lib/arrange/piece';
import { pieceOf } from '$lib/arrange/pieceOf';
import type { NotTaken, Progression, ProgressionFault } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { PIECE_SIGNS } from '$lib/arrange/textSigns';
import { withNotesOf } from '$lib/arrange/withNotes';
import {
  transposed,
  transposedPiece,
  transposedPieceTo,
  transposedTo,
} from '$lib/arrange/transposed';
import { fileFaultText } from '$lib/faults';
import {
  isTuneFile,
  kindOfFile,
  readProgressionFile,
  readTuneFile,
} from '$lib/formats/progressionFiles';
import { keyInLetters } from '$lib/theory/typedNames';
import { parseNoteName } from '$lib/theory/pitch';
import { readKey } from '$lib/theory/spelling';
import { textInLetters } from '$lib/theory/typedText';
import { fileToRead } from './files';
import { keyOf } from './options';
import { Refusal } from './out';

/** What says which piece it is. */
export interface PieceOptions {
  readonly chords?: string;
  readonly file?: string;
  readonly melody?: string;
  readonly key?: string;
  readonly to?: string;
  readonly transpose?: string;
}

/** A piece as it was read. */
export interface PieceRead {
  readonly progression: Progression;
  /** The same as it is written. */
  readonly piece?: Piece;
  readonly faults: readonly ProgressionFault[];
  readonly notTaken: readonly NotTaken[];
}

/** Reads the chords or the file, and the melody. */
export async function readPiece(options: PieceOptions): Promise<PieceRead> {
  const { chords, file, melody } = options;
  if ((chords === undefined) === (file === undefined))
    throw new Refusal('arrange: either --chords or --file says what to arrange.', 2);
  const key = options.key === undefined ? undefined : keyOf(options.key);
  const read =
    chords === undefined
      ? await fromFile(file ?? '')
      : {
          notTaken: [],
          ...readProgression(pieceInLetters(chords.replaceAll('\\n', '\n'), PIECE_SIGNS), key),
        };
  if (melody === undefined) return read;
  const { progression, piece, faults, notTaken } = read;
  const under = (sung: Progression): Pick<PieceRead, 'progression' | 'piece'> => {
    const written = piece && withNotesOf(piece, progression, sung);
    return { progression: sung, ...(written === undefined ? {} : { piece: written }) };
  };
  if (isTuneFile(melody)) {
    const tune = await readTuneFile(fileToRead(melody));
    if (!tune.ok) throw new Refusal(fileFaultText(melody, tune.error), 1);
    const [{ besideTune, withTune }, { withMelodyOf }] = await Promise.all([
      import('$lib/formats/read/midi'),
      import('$lib/formats/read/midiMelody'),
    ]);
    const whole = withMelodyOf(piece ?? pieceOf(progression), tune.value);
    return {
      progression: withTune(progression, tune.value),
      piece: whole.piece,
      faults,
      notTaken: [...notTaken, ...besideTune(progression, tune.value), ...whole.notTaken],
    };
  }
  const sung = withMelody(progression, textInLetters('notes', melody));
  return { ...under(sung.progression), faults: [...faults, ...sung.faults], notTaken };
}

async function fromFile(path: string): Promise<PieceRead> {
  const result = await readProgressionFile(fileToRead(path));
  if (!result.ok)
    throw new Refusal(
      fileFaultText(path, result.error),
      kindOfFile(path)?.read === undefined ? 2 : 1,
    );
  return { notTaken: [], ...result.value };
}

/** In the key and at the pitch that are asked for. */
export function placed(read: PieceRead, { key, to, transpose }: PieceOptions): PieceRead {
  if (to !== undefined && transpose !== undefined)
    throw new Refusal('arrange: --to and --transpose both move it; allowed is one of them.', 2);
  const given = key === undefined ? {} : { key: keyOf(key) };
  const progression = { ...read.progression, ...given };
  const piece = read.piece && { ...read.piece, ...given };
  const moved = (played: Progression, written: Piece | undefined): PieceRead => ({
    ...read,
    progression: played,
    ...(written === undefined ? {} : { piece: written }),
  });
  if (to !== undefined) {
    const written = keyInLetters(to);
    const goal = readKey(written);
    const tonic = goal.ok ? goal.value.tonic : parseNoteName(written);
    if (tonic === undefined)
      throw new Refusal(`--to: found “${to}”; allowed is a key such as Eb or F#m.`, 2);
    return moved(transposedTo(progression, tonic), piece && transposedPieceTo(piece, tonic));
  }
  if (transpose === undefined) return moved(progression, piece);
  if (!/^[+-]?\d{1,2}$/.test(transpose))
    throw new Refusal(
      `--transpose: found “${transpose}”; allowed are semitones such as -3 or 5.`,
      2,
    );
  const semitones = Number(transpose);
  return moved(transposed(progression, semitones), piece && transposedPiece(piece, semitones));
}
