/** What the atlas shows of its rows, and where the keys lead: plain numbers, rows and frets from 0. */
import { chromaOf } from '$lib/theory/pitch';
import { engagedText, engagedWords } from '$lib/setup/engagedText';
import type { Atlas, AtlasRow } from '$lib/answers/atlas';
import type { AtlasName } from '$lib/answers/atlasNames';
import type { Hold } from '$lib/search/hold';
import type { AtlasView } from '$lib/ui/explore/address';

/** A finger’s target and the line under it. */
export const ROW_PX = 45;
/** Rows are drawn in blocks, so that not every step of a scroll changes the page. */
const BLOCK = 6;

export interface AtlasPosition {
  readonly row: number;
  readonly fret: number;
}

/** First and last row to draw for a part of the sheet that is in view; a block more on either side. */
export function rowsInView(
  scrollPx: number,
  heightPx: number,
  count: number,
): readonly [first: number, last: number] {
  const block = (px: number): number => Math.floor(px / ROW_PX / BLOCK);
  const first = Math.max(0, (block(scrollPx) - 1) * BLOCK);
  const last = Math.min(count, (block(scrollPx + heightPx) + 2) * BLOCK) - 1;
  return [first, last];
}

/** Where a key leads from a position; `undefined` where it is not one that moves. */
export function positionAfter(
  key: string,
  withControl: boolean,
  { row, fret }: AtlasPosition,
  rows: number,
  frets: number,
  page: number,
): AtlasPosition | undefined {
  const to = (nextRow: number, nextFret: number): AtlasPosition => ({
    row: Math.max(0, Math.min(rows - 1, nextRow)),
    fret: Math.max(0, Math.min(frets, nextFret)),
  });
  switch (key) {
    case 'ArrowUp':
      return to(row - 1, fret);
    case 'ArrowDown':
      return to(row + 1, fret);
    case 'ArrowLeft':
      return to(row, fret - 1);
    case 'ArrowRight':
      return to(row, fret + 1);
    case 'PageUp':
      return to(row - page, fret);
    case 'PageDown':
      return to(row + page, fret);
    case 'Home':
      return to(withControl ? 0 : row, 0);
    case 'End':
      return to(withControl ? rows - 1 : row, frets);
    default:
      return undefined;
  }
}

export interface CellView {
  readonly text: string;
  readonly bass: string;
  readonly spoken: string;
  readonly isWanted: boolean;
  /** Tones are left out or added. */
  readonly isFar: boolean;
}

export interface RowView {
  readonly controls: string;
  readonly spoken: string;
  /** By fret. */
  readonly cells: readonly CellView[];
}

const textOf = (name: AtlasName, cells: AtlasView['cells']): readonly [string, string] =>
  cells === 'degrees' && name.numeral ? [name.numeral.text, ''] : [name.text, name.bass];

/** One row in words and signs; made when it comes into view. */
export function rowView(atlas: Atlas, row: AtlasRow, cells: AtlasView['cells']): RowView {
  const words = engagedWords(row.engaged);
  const wanted = new Set(row.wanted.map(({ fret }) => fret));
  return {
    controls: engagedText(row.engaged),
    spoken: words,
    cells: Array.from({ length: atlas.frets + 1 }, (_, fret): CellView => {
      const isWanted = wanted.has(fret);
      const name = isWanted ? atlas.wanted : atlas.names[row.names[chromaOf(fret)] ?? 0];
      if (name === undefined) throw new Error(`name of fret ${fret}`);
      const [text, bass] = textOf(name, cells);
      const said = cells === 'degrees' ? (name.numeral?.spoken ?? name.spoken) : name.spoken;
      return {
        text,
        bass,
        isWanted,
        isFar: name.changes > 0,
        spoken: `${said}, ${fret === 0 ? 'open strings' : `fret ${fret}`}, ${words}${isWanted ? ', the chord you look for' : ''}`,
      };
    }),
  };
}

/** How the hands lie at a position: on the grip that gives the wanted chord there, else the row's own. */
export function holdAt(atlas: Atlas, { row, fret }: AtlasPosition): Hold | undefined {
  const at = atlas.rows[row];
  if (at === undefined) return undefined;
  const wanted = at.wanted.find((each) => each.fret === fret);
  return {
    neck: atlas.neck,
    fret,
    engaged: at.engaged,
    slant: 0,
    strings: wanted?.strings ?? at.strings,
  };
}

/** The position that shows what is held, where there is one. */
export function positionHeld(atlas: Atlas, hold: Hold): AtlasPosition | undefined {
  if (hold.neck !== atlas.neck || (hold.slant ?? 0) !== 0) return undefined;
  const held = engagedText(hold.engaged);
  const row = atlas.rows.findIndex(({ engaged }) => engagedText(engaged) === held);
  return row < 0 ? undefined : { row, fret: hold.fret };
}

export const wantedCount = (atlas: Atlas): number =>
  atlas.rows.reduce((sum, { wanted }) => sum + wanted.length, 0);
