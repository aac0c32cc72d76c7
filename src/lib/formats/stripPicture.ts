/** A strip of positions as a picture: small necks side by side in the order in which they are played. */
import { text, type Drawing } from './drawing';
import type { PaperNeck } from './book';
import { neckMarks, neckMm } from './neckDrawing';
import { cut } from './type/setting';

const EDGE_MM = 7;
const NECK_MM = 44;
const GAP_MM = 3;
const HEAD_MM = 14;
const BETWEEN_MM = 5;
/** Necks in a row at most. */
const COLUMNS = 6;

/** What is drawn. */
export interface Strip {
  readonly title: string;
  /** In small type under the title. */
  readonly about: string;
  readonly necks: readonly PaperNeck[];
}

/** The picture of a strip. */
export function stripPicture({ title, about, necks }: Strip): Drawing {
  const columns = Math.max(1, Math.min(COLUMNS, necks.length));
  const width = 2 * EDGE_MM + Math.max(2, columns) * (NECK_MM + GAP_MM);
  const row = Math.max(0, ...necks.map(({ strings }) => neckMm(strings.length))) + BETWEEN_MM;
  const top = EDGE_MM + HEAD_MM;
  const room = width - 2 * EDGE_MM;
  return {
    title,
    pages: [
      {
        width,
        height: top + Math.ceil(necks.length / columns) * row + EDGE_MM - BETWEEN_MM,
        marks: [
          text(EDGE_MM, EDGE_MM + 4.5, cut(title, 13, room, 'bold'), 13, { weight: 'bold' }),
          text(EDGE_MM, EDGE_MM + 9, cut(about, 8.5, room), 8.5, { grey: true }),
          ...necks.flatMap((neck, at) =>
            neckMarks(
              neck,
              EDGE_MM + (at % columns) * (NECK_MM + GAP_MM),
              top + Math.floor(at / columns) * row,
              NECK_MM,
            ),
          ),
        ],
      },
    ],
  };
}
