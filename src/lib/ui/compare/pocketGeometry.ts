/** Where everything of the picture of the pockets is drawn; CSS pixels, x from the left, y from the top. */
import type { Pocket } from '$lib/coverage/pockets';
import { fretShare } from '$lib/ui/neck/neckGeometry';

export interface PocketColumn {
  readonly fret: number;
  readonly x: number;
  readonly width: number;
  /** Heights of the chords that are complete, and of those that lack a tone, on top of them. */
  readonly a: PocketHeights | undefined;
  readonly b: PocketHeights | undefined;
}

export interface PocketHeights {
  readonly complete: number;
  readonly lean: number;
}

export interface PocketPicture {
  readonly width: number;
  readonly height: number;
  readonly boardTop: number;
  readonly boardBottom: number;
  readonly left: number;
  readonly right: number;
  readonly columns: readonly PocketColumn[];
}

/** The strip of neck between the two rows of columns. */
const BOARD = 30;
const TALL = 96;
const EDGE = 22;
/** The narrowest gap between frets in which a column can be told from its neighbour. */
const LEAST_GAP = 10;
const MOST_WIDTH = 26;

const heights = (pocket: Pocket | undefined, chord: number): PocketHeights | undefined => {
  if (pocket === undefined) return undefined;
  const complete = pocket.chords.filter(({ match }) => match === 'complete').length;
  return { complete: chord * complete, lean: chord * (pocket.chords.length - complete) };
};

/** Lays the picture out in the room there is; where that is too little it scrolls in its box. */
export function layOutPockets(
  roomPx: number,
  a: readonly Pocket[],
  b: readonly Pocket[],
  mostChords: number,
): PocketPicture {
  const last = Math.max(a.length, b.length) - 1;
  const lastGap = last <= 0 ? 1 : 1 - fretShare(last - 1, last, 'true');
  const run = Math.max(roomPx - 2 * EDGE, last <= 0 ? 0 : LEAST_GAP / lastGap);
  const xOf = (fret: number): number => EDGE + run * fretShare(fret, last, 'true');
  const chord = mostChords === 0 ? 0 : TALL / mostChords;
  const columns = Array.from({ length: last + 1 }, (_, fret): PocketColumn => {
    const x = xOf(fret);
    const gap = Math.min(
      fret === 0 ? Infinity : x - xOf(fret - 1),
      fret === last ? Infinity : xOf(fret + 1) - x,
    );
    return {
      fret,
      x,
      width: Math.min(MOST_WIDTH, 0.72 * gap),
      a: heights(a[fret], chord),
      b: heights(b[fret], chord),
    };
  });
  const boardTop = TALL + 8;
  return {
    width: Math.round(run + 2 * EDGE),
    height: boardTop + BOARD + TALL + 8,
    boardTop,
    boardBottom: boardTop + BOARD,
    left: EDGE,
    right: EDGE + run,
    columns,
  };
}

/** The fret whose column lies nearest to an x. */
export const fretAt = ({ columns }: PocketPicture, x: number): number =>
  columns.reduce(
    (nearest, column) =>
      Math.abs(column.x - x) < Math.abs((columns[nearest]?.x ?? 0) - x) ? column.fret : nearest,
    0,
  );
