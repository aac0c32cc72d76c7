/** The code of a sheet about a piece, for page and terminal: with every note where a code holds that. */
import { isBuiltInId } from '$lib/setup/builtIns';
import { CHORDS_ALONE, namedAlone } from './codeWords';
import { openAddress } from './paperAddress';
import { codeOf } from './qr';
import type { SheetCode } from './sheetCode';
import { linkText } from './shareLink';

/** What the code may carry, as documents. */
export interface PieceTexts {
  /** The piece as it is. */
  readonly whole: string;
  /** Its chords without what a text of chords leaves out; nothing where that is the whole. */
  readonly chords?: string | undefined;
}

/** The setup that a document names: the id of one that comes with the program, else its name alone. */
interface NamedSetup {
  readonly id: string;
  readonly name: string;
}

/** With its notes and words where a code on paper holds them, else its chords alone, and the sheet says so. */
export function codeOfPiece(
  { whole, chords }: PieceTexts,
  { id, name }: NamedSetup,
  address: string,
): SheetCode {
  const linkOf = (text: string) => linkText({ kind: 'progression', text });
  const link = linkOf(whole);
  const fits = link.ok && codeOf(openAddress(address, link.value)) !== undefined;
  const isLess = !fits && chords !== undefined;
  const beyond = [
    ...(isBuiltInId(id) ? [] : [namedAlone(name)]),
    ...(isLess ? [CHORDS_ALONE] : []),
  ];
  return {
    address,
    link: isLess ? linkOf(chords) : link,
    opens: 'this piece',
    ...(beyond.length === 0 ? {} : { beyond: beyond.join(' ') }),
  };
}
