/** The pulls of a chart, each put with its control. */
import type { Pull, Station } from '$lib/setup/setup';
import { chromaOf, chromaOfName } from '$lib/theory/pitch';
import type { Doubts } from './doubts';
import { nameOfWord } from './noteWord';
import type { Manner } from './pull';
import type { WrittenNeck } from './reading';
import type { FoundStrings } from './stringsOf';

/** A control that is being filled with its pulls. */
export interface FilledControl {
  readonly station: Station;
  readonly id: string;
  readonly pulls: Pull[];
}

/** The pulls of a neck, each put with its control; gives how many could not be read. */
export function addPulls(
  neck: WrittenNeck,
  number: number,
  strings: FoundStrings,
  controlAt: (index: number) => FilledControl | undefined,
  manner: Manner,
  doubts: Doubts,
): number {
  let unread = 0;
  const named = (neck.byNote ?? []).flatMap(({ note, ...pull }) => {
    const chroma = chromaOfName(nameOfWord(note, manner.germanB));
    const found = strings.strings.flatMap(({ open }, at) =>
      chromaOf(open.midi) === chroma ? [at] : [],
    );
    doubts.tell({
      key: `strings:${pull.piece.at}`,
      piece: pull.piece,
      read:
        found.length === 0
          ? 'nothing: no string has that open note'
          : `string ${found.map((at) => at + 1).join(' and ')}`,
    });
    return found.map((at) => ({ ...pull, at }));
  });
  const numbered = neck.pulls.map((pull) => ({
    ...pull,
    at: strings.indexOf[pull.string] ?? pull.string,
  }));
  for (const { at, control, piece, travel } of [...numbered, ...named]) {
    const to = controlAt(control);
    const open = strings.strings[at]?.open;
    if (to === undefined || open === undefined) {
      doubts.tell({
        key: `lost:${piece.at}`,
        piece,
        read: 'nothing: there is no such string or control',
      });
      continue;
    }
    const spot = `${to.id} on string ${at + 1}`;
    const about = { control: to.id, neck: number, string: at + 1 };
    const pull = travel(chromaOf(open.midi), manner, { piece, spot, about, doubts });
    if (pull === 'blank') continue;
    if (pull === undefined) unread++;
    if (pull === undefined)
      doubts.tell({
        key: `unread:${piece.at}:${at}`,
        piece,
        spot,
        about,
        read: 'nothing: it is no pull that can be read',
      });
    else if (to.pulls.some((each) => each.neck === number && each.string === at + 1))
      doubts.tell({
        key: `twice:${piece.at}:${at}`,
        piece,
        spot,
        about,
        read: 'nothing: this string has a pull there already',
      });
    else to.pulls.push({ neck: number, string: at + 1, ...pull });
  }
  return unread;
}
