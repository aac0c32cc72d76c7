/** A whole neck as a picture: every fret, the bar where it lies, tones on their strings, what moves them. */
import { box, disc, line, text, type Drawing, type Mark } from './drawing';
import { fretMm } from '$lib/setup/setup';
import { cut, fittedPt } from './type/setting';

/** One string. */
export interface PictureString {
  /** Its open note: `F♯4`. */
  readonly open: string;
  /** It belongs to the grip. */
  readonly picked: boolean;
  /** What stands in its disc; no disc where it is left out. */
  readonly tone?: string;
  /** What sounds beside it, in small type. */
  readonly beside?: string;
  /** `+2`. */
  readonly moved?: string;
}

/** What is drawn. */
export interface PictureNeck {
  /** A chord, or what else it shows; empty where nothing is named. */
  readonly title: string;
  /** In small type under it: setup, neck, fret and what is engaged. */
  readonly about: string;
  /** The highest fret. */
  readonly frets: number;
  /** As frets lie, or all alike. */
  readonly spacing: 'true' | 'equal';
  readonly fret: number;
  /** Frets by which the bar lies higher at the first of the slant strings than at the second. */
  readonly slant: number;
  /** The farther and the nearer string between which a slant is counted. */
  readonly slantStrings: readonly [number, number];
  /** String 1 first. */
  readonly strings: readonly PictureString[];
}

const WIDTH_MM = 240;
const EDGE_MM = 7;
const NAMES_MM = 16;
const MOVES_MM = 24;
const STRING_MM = 5.6;
const HEAD_MM = 15;
const NUMBERS_MM = 8;
const DISC_MM = 2.5;
const TITLE_PT = 15;
const ABOUT_PT = 9;
const SMALL_PT = 8;
const TONE_PT = 8.5;
/** Frets that a player finds by their signs on the neck (common practice of the trade). */
const SIGNED = [3, 5, 7, 9, 12, 15, 17, 19, 21, 24];

/** The picture of a neck. */
export function neckPicture(neck: PictureNeck): Drawing {
  const { title, about, strings, frets, spacing } = neck;
  const left = EDGE_MM + NAMES_MM;
  const right = WIDTH_MM - EDGE_MM - MOVES_MM;
  const top = EDGE_MM + HEAD_MM;
  const bottom = top + (strings.length - 1) * STRING_MM;
  const run = right - left - 3;
  const xOf = (fret: number): number =>
    left +
    run *
      (frets <= 0 ? 0 : spacing === 'equal' ? fret / frets : fretMm(fret, 1) / fretMm(frets, 1));
  const yOf = (string: number): number => top + (string - 1) * STRING_MM;
  /** Where the bar lies on a string. */
  const at = (string: number): number => {
    const [far, near] = neck.slantStrings;
    const share = far === near ? 0 : (near - string) / (near - far);
    return neck.fret + neck.slant * share;
  };
  const marks: Mark[] = [
    text(EDGE_MM, EDGE_MM + 5, cut(title, TITLE_PT, WIDTH_MM - 2 * EDGE_MM, 'bold'), TITLE_PT, {
      weight: 'bold',
    }),
    text(EDGE_MM, EDGE_MM + 10, cut(about, ABOUT_PT, WIDTH_MM - 2 * EDGE_MM), ABOUT_PT, {
      grey: true,
    }),
    ...Array.from({ length: frets + 1 }, (_, fret) =>
      line(
        [xOf(fret), top - 1.5],
        [xOf(fret), bottom + 1.5],
        fret === 0 ? 1 : 0.2,
        fret === 0 ? 1 : 0.45,
      ),
    ),
    ...SIGNED.filter((fret) => fret <= frets).map((fret) =>
      text(xOf(fret), bottom + 6, String(fret), SMALL_PT, {
        align: 'middle',
        grey: fret !== neck.fret,
        weight: fret === neck.fret ? 'bold' : 'regular',
      }),
    ),
    ...(SIGNED.includes(neck.fret) || neck.fret === 0
      ? []
      : [
          text(xOf(neck.fret), bottom + 6, String(neck.fret), SMALL_PT, {
            align: 'middle',
            weight: 'bold',
          }),
        ]),
  ];
  strings.forEach(({ open, picked }, index) => {
    const y = yOf(index + 1);
    marks.push(
      line([left, y], [right, y], picked ? 0.4 : 0.2, picked ? 1 : 0.5),
      text(left - 9.5, y + 1, String(index + 1), SMALL_PT, { align: 'end', weight: 'bold' }),
      text(left - 2.5, y + 1, open, SMALL_PT, { align: 'end', grey: true }),
    );
  });
  if (neck.fret > 0 || neck.slant !== 0) {
    const last = strings.length;
    marks.push(
      neck.slant === 0
        ? box(xOf(neck.fret) - 0.9, top - 2.6, 1.8, bottom - top + 5.2, 0.3)
        : line([xOf(at(1)), top - 2.6], [xOf(at(last)), bottom + 2.6], 1.8, 0.3),
    );
  }
  strings.forEach((each, index) => {
    marks.push(...stringMarks(each, xOf(at(index + 1)), right + 2.5, yOf(index + 1)));
  });
  const height = bottom + NUMBERS_MM + EDGE_MM - 2;
  return { title, pages: [{ width: WIDTH_MM, height, marks }] };
}

function stringMarks(
  { tone, picked, beside, moved }: PictureString,
  x: number,
  right: number,
  y: number,
): Mark[] {
  const marks: Mark[] = [];
  if (tone !== undefined) {
    const pt = fittedPt(tone, TONE_PT, DISC_MM * 1.7, 'bold');
    const words = text(x, y + pt * 0.125, tone, pt, { weight: 'bold', align: 'middle' });
    marks.push(
      disc(x, y, DISC_MM, picked ? 1 : 0.55),
      ...(picked ? [] : [disc(x, y, DISC_MM - 0.25, 0)]),
      picked ? { ...words, ink: 0 } : words,
    );
  }
  if (beside !== undefined)
    marks.push(
      text(right, y + 1, beside, SMALL_PT, { weight: picked ? 'bold' : 'regular', grey: !picked }),
    );
  if (moved !== undefined && moved !== '')
    marks.push(text(right + 12, y + 1, moved, SMALL_PT, { weight: 'bold' }));
  return marks;
}
