/** Two tables of one neck: pedals in the one, levers in the other. */
import { Doubts } from './doubts';
import { mannerOf } from './manner';
import type { Written, WrittenNeck } from './reading';
import { sameStrings } from './stringsOf';

/** Tables of the same strings with other controls are one neck. */
export function joined(written: Written, text: string, doubts: Doubts): Written {
  const manner = mannerOf(written, text, new Doubts({}));
  const necks: WrittenNeck[] = [];
  for (const neck of written.necks) {
    const at = necks.findIndex((each) => sameStrings(each, neck, manner));
    const same = necks[at];
    const heads = (each: WrittenNeck): string[] =>
      each.controls.map(({ name }) => name.station ?? name.called ?? '');
    if (same === undefined || heads(neck).some((head) => heads(same).includes(head))) {
      necks.push(neck);
      continue;
    }
    const rowOf = neck.strings.map((string, index) =>
      string.number === undefined
        ? index
        : same.strings.findIndex(({ number }) => number === string.number),
    );
    necks[at] = {
      ...same,
      controls: [...same.controls, ...neck.controls],
      leftOut: [...same.leftOut, ...neck.leftOut],
      pulls: [
        ...same.pulls,
        ...neck.pulls.map((pull) => ({
          ...pull,
          string: rowOf[pull.string] ?? pull.string,
          control: pull.control + same.controls.length,
        })),
      ],
    };
    const piece = neck.strings[0]?.piece;
    if (piece !== undefined)
      doubts.tell({
        key: `joined:${piece.at}`,
        piece,
        found: 'a second table of the same strings',
        read: 'more controls of the same neck',
      });
  }
  return { ...written, necks };
}
