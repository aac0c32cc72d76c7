/** A tune's arrangement as a file in ABC notation: its staves in one line. */
import type { Piece } from '$lib/arrange/piece';
import { DEFAULT_TEMPO } from '$lib/arrange/progression';
import { writtenOut } from '$lib/arrange/writtenOut';
import type { Struck } from '../staffSteel';
import { staffSystems } from '../staffSystems';
import { tuneForm } from '../tuneForm';

/** Words on a bar line, and what players of ABC know them by where that is not their letters (ABC 2.1, 4.14). */
const BEHIND = /"\^?((?:To Coda|Fine|D\.[CS]\.[^"]*)(?:, [^"]*)?)"/gu;
const DECORATIONS: Readonly<Record<string, string>> = {
  'To Coda': 'coda',
  Fine: 'fine',
  'D.C. al Fine': 'D.C.alfine',
  'D.C. al Coda': 'D.C.alcoda',
  'D.S. al Fine': 'D.S.alfine',
  'D.S. al Coda': 'D.S.alcoda',
};

/**
 * The whole tune as one text in ABC notation: the melody with its signs and words, and the steel part, with the
 * repeats that are played alike. A part that is played more than twice has no sign there, and all is written as played.
 */
export function tuneAbc(given: Piece, steps: readonly Struck[]): string {
  const form = tuneForm(given, steps);
  const isMore = form.piece.measures.some(({ times = 1 }) => times > 2);
  const { piece, measures } = isMore
    ? tuneForm(writtenOut(given, { jump: true, part: () => true }).piece, steps)
    : form;
  const [system] = staffSystems({
    ...{ piece, measures, signs: 'letters', inEveryVoice: true },
    ...{ width: Infinity, widthOf: () => 0 },
  });
  const title = (piece.title ?? 'Tune').replace(/[\r\n%]+/gu, ' ').trim();
  const { tempo = DEFAULT_TEMPO } = piece;
  return (system?.abc ?? 'X:1\nL:1/4\nK:C\n')
    .replace('X:1\n', `X:1\nT:${title}\nQ:1/4=${String(tempo)}\n`)
    .replace('%%stretchlast 1\n', '')
    .replace(/"\^([^";]*)"/gu, (sign, text: string) =>
      text === 'N.C.' || !/^[A-G]/u.test(text)
        ? sign
        : `"${text.replaceAll('♯', '#').replaceAll('♭', 'b')}"`,
    )
    .replace(BEHIND, (_, words: string) =>
      words
        .split(', ')
        .map((each) => `!${DECORATIONS[each] ?? each.replaceAll(' ', '')}!`)
        .join(''),
    );
}
