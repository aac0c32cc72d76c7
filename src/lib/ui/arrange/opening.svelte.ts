/** A file that is opened in place of the piece, and what is told of it. */
import type { Piece } from '$lib/arrange/piece';
import type { ReadProgression } from '$lib/arrange/progression';
import { openedText } from './files';

export class PieceOpening {
  /** What could not be read of it, or why it could not be opened, as sentences. */
  told = $state.raw<readonly string[]>([]);
  /** What of the file has no place here. */
  notTaken = $state.raw<readonly string[]>([]);

  /** The piece in a file, read beside the one that is there; nothing where it cannot be opened. */
  async open(file: File, read: ReadProgression): Promise<Piece | undefined> {
    const opened = await openedText(file, read.progression, read.piece);
    const of = (sentence: string) => `${file.name}: ${sentence}`;
    this.notTaken = opened.ok ? opened.value.notTaken.map(of) : [];
    this.told = opened.ok ? opened.value.unread.map(of) : [of(opened.error)];
    return opened.ok ? opened.value.piece : undefined;
  }
}
