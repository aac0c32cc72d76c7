/** Two edits of one text as one: line by line, and within a line that both changed bar by bar. */
import { plain, type Conflict, type Merged, type Three } from './threeWay';

/** Where texts differ is told by the parts that differ. */
const PATH = 'text';

/** Longer texts, where both were changed all over, are not compared line by line. */
const MOST_COMPARED = 4_000_000;

/** The longest run of parts that two lists share, as pairs of their indexes. */
function shared(a: readonly string[], b: readonly string[]): (readonly [number, number])[] {
  let front = 0;
  while (front < a.length && front < b.length && a[front] === b[front]) front++;
  let back = 0;
  while (
    back < Math.min(a.length, b.length) - front &&
    a[a.length - 1 - back] === b[b.length - 1 - back]
  )
    back++;
  const [rows, columns] = [a.length - front - back, b.length - front - back];
  const pairs: (readonly [number, number])[] = [];
  for (let at = 0; at < front; at++) pairs.push([at, at]);
  if (rows * columns <= MOST_COMPARED) {
    const width = columns + 1;
    // how long a run can be from here to the end
    const run = new Uint32Array((rows + 1) * width);
    const runAt = (row: number, column: number): number => run[row * width + column] ?? 0;
    for (let row = rows - 1; row >= 0; row--)
      for (let column = columns - 1; column >= 0; column--)
        run[row * width + column] =
          a[front + row] === b[front + column]
            ? runAt(row + 1, column + 1) + 1
            : Math.max(runAt(row + 1, column), runAt(row, column + 1));
    for (let [row, column] = [0, 0]; row < rows && column < columns;)
      if (a[front + row] === b[front + column]) pairs.push([front + row++, front + column++]);
      else if (runAt(row + 1, column) >= runAt(row, column + 1)) row++;
      else column++;
  }
  for (let at = back; at > 0; at--) pairs.push([a.length - at, b.length - at]);
  return pairs;
}

/** Three lists of parts as one; `within` says what becomes of parts that both changed. */
function mergeParts(
  { base, mine, theirs }: Three<readonly string[]>,
  within: (three: Three<readonly string[]>) => Merged<readonly string[]>,
): Merged<readonly string[]> {
  const inMine = new Map(shared(base, mine));
  const inTheirs = new Map(shared(base, theirs));
  const value: string[] = [];
  const conflicts: Conflict[] = [];
  let [was, here, there] = [0, 0, 0];
  const between = (to: number, hereTo: number, thereTo: number): void => {
    const three = {
      base: base.slice(was, to),
      mine: mine.slice(here, hereTo),
      theirs: theirs.slice(there, thereTo),
    };
    const merged = plain(three) ?? within(three);
    value.push(...merged.value);
    if ('conflicts' in merged) conflicts.push(...merged.conflicts);
  };
  base.forEach((part, at) => {
    const [hereAt, thereAt] = [inMine.get(at), inTheirs.get(at)];
    if (hereAt === undefined || thereAt === undefined) return;
    between(at, hereAt, thereAt);
    value.push(part);
    [was, here, there] = [at + 1, hereAt + 1, thereAt + 1];
  });
  between(base.length, mine.length, theirs.length);
  return { value, conflicts };
}

/** Parts that both changed, one by one, where none was added or taken away. */
const oneByOne =
  (mark: string, one: (three: Three<string>) => Merged<string>) =>
  (three: Three<readonly string[]>): Merged<readonly string[]> => {
    const { base, mine, theirs } = three;
    if (base.length !== mine.length || base.length !== theirs.length)
      return { value: mine, conflicts: [conflictOf(mine.join(mark), theirs.join(mark))] };
    const merged = base.map((part, at) => {
      const each = { base: part, mine: mine[at] ?? '', theirs: theirs[at] ?? '' };
      const alike = plain(each);
      return alike === undefined ? one(each) : { ...alike, conflicts: [] };
    });
    return {
      value: merged.map(({ value }) => value),
      conflicts: merged.flatMap(({ conflicts }) => conflicts),
    };
  };

const conflictOf = (mine: string, theirs: string): Conflict => ({ path: PATH, mine, theirs });

const mineStands = ({ mine, theirs }: Three<string>): Merged<string> => ({
  value: mine,
  conflicts: [conflictOf(mine, theirs)],
});

const splitBy = (three: Three<string>, mark: string): Three<readonly string[]> => ({
  base: three.base.split(mark),
  mine: three.mine.split(mark),
  theirs: three.theirs.split(mark),
});

function mergeLine(three: Three<string>): Merged<string> {
  const { value, conflicts } = mergeParts(splitBy(three, '|'), oneByOne('|', mineStands));
  return { value: value.join('|'), conflicts };
}

export function mergeTexts(three: Three<string>): Merged<string> {
  const alike = plain(three);
  if (alike !== undefined) return { ...alike, conflicts: [] };
  const { value, conflicts } = mergeParts(splitBy(three, '\n'), oneByOne('\n', mergeLine));
  return { value: value.join('\n'), conflicts };
}
