/** A cell of a chart: nothing, whatever stands for it, or a pull, perhaps with a remark. */
import { chromaOfName, type Chroma } from '$lib/theory/pitch';
import { signedToType } from '$lib/theory/signed';
import { nameOfWord } from './noteWord';
import { pullOf, type Manner, type PullPlace, type Travel } from './pull';
import { pullTokens } from './pullTokens';

const BLANK = /^(?:[.·•_~–—\s]*|-{2,}|0|nil|none|n\/a|x)$/iu;

/** Is there nothing in a cell, whatever stands for it? */
export const isBlank = (text: string, { dashIsBlank }: Pick<Manner, 'dashIsBlank'>): boolean =>
  // two marks are a whole tone down, and many are a rule
  (BLANK.test(text) && !/^--{1,6}$/.test(text.trim())) ||
  (dashIsBlank && /^[-–—]+$/.test(text.trim()));

/** A cell without the brackets behind it, where they hold words and no amount. */
export function withoutRemark(text: string): { said: string; remark: string } {
  const [, said = '', remark = ''] = /^([^([]+?)\s*[([]([^()[\]]*)[)\]]\s*$/u.exec(text) ?? [];
  const isRemark = said !== '' && /\p{L}/u.test(remark) && pullTokens(remark) === undefined;
  return isRemark ? { said, remark } : { said: text, remark: '' };
}

/** Reads a cell; `'blank'` where nothing is in it, `undefined` where it is no pull. */
export function readPullCell(
  text: string,
  open: Chroma,
  manner: Manner,
  place: PullPlace,
  way: -1 | 0 | 1 = 0,
): Travel | 'blank' | undefined {
  if (/^x$/iu.test(text.trim()))
    place.doubts.tell({ ...place, key: 'x', read: 'no pull, here and elsewhere' });
  if (isBlank(text, manner)) return 'blank';
  const stops = /^([+-]?)1\/2$/.exec(text.trim());
  if (stops !== null && manner.halfIsStops)
    return stops[1] === '-' ? { half: -1, semitones: -2 } : { half: 1, semitones: 2 };
  const { said, remark } = withoutRemark(text);
  const tokens = pullTokens(said);
  if (tokens === undefined || tokens.length === 0) return undefined;
  // who writes what every string sounds writes the open note where nothing moves
  const [only, ...more] = tokens;
  if (
    more.length === 0 &&
    only?.token.kind === 'note' &&
    chromaOfName(nameOfWord(only.token.note, manner.germanB)) === open
  )
    return 'blank';
  const pull = pullOf(tokens, open, manner, place, way);
  if (remark !== '' && pull !== undefined)
    place.doubts.tell({
      ...place,
      key: `remark:${place.piece.at}`,
      read: `${signedToType(pull.semitones)}, and a remark`,
    });
  return pull;
}
