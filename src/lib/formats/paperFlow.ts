/** Fills pages from top to bottom; every page says at its foot what it belongs to. */
import { MM_PER_POINT, PAPER_MM, line, text, type Drawing, type Mark, type Paper } from './drawing';
import { cut, wrapped } from './type/setting';
import type { Weight } from './type/faces';

/** The margin on all four sides of a page. */
const MARGIN_MM = 14;
const FOOT_MM = 7;
const FOOT_PT = 7.5;

const lineMm = (sizePt: number): number => sizePt * MM_PER_POINT * 1.35;

interface Words {
  readonly weight?: Weight;
  readonly grey?: boolean;
  /** From the left margin. */
  readonly indentMm?: number;
}

/**
 * A document that is being filled: marks go on the last page, words at `y`. Everything counts in millimetres
 * from the top left corner.
 */
export class PaperFlow {
  readonly width: number;
  readonly height: number;
  readonly left = MARGIN_MM;
  readonly right: number;
  readonly #title: string;
  readonly #pages: Mark[][] = [[]];
  /** How far down the present page is filled. */
  y = MARGIN_MM;

  constructor(title: string, paper: Paper, landscape: boolean) {
    const [short, long] = PAPER_MM[paper];
    [this.width, this.height] = landscape ? [long, short] : [short, long];
    this.right = this.width - MARGIN_MM;
    this.#title = title;
  }

  /** Between the margins. */
  get span(): number {
    return this.right - this.left;
  }
  get bottom(): number {
    return this.height - MARGIN_MM - FOOT_MM;
  }
  /** The room of a page on which nothing stands yet. */
  get pageMm(): number {
    return this.bottom - MARGIN_MM;
  }
  get room(): number {
    return this.bottom - this.y;
  }
  get isFresh(): boolean {
    return this.y === MARGIN_MM;
  }

  turn(): void {
    this.#pages.push([]);
    this.y = MARGIN_MM;
  }
  /** Turns the page where less than this is left of it. */
  need(mm: number): void {
    if (this.room < mm && !this.isFresh) this.turn();
  }
  add(...marks: readonly Mark[]): void {
    this.#pages.at(-1)?.push(...marks);
  }
  /** The number of the page that is being filled, from 1. */
  get page(): number {
    return this.#pages.length;
  }
  /** Marks on a page that has been turned already, by its number. */
  addTo(page: number, ...marks: readonly Mark[]): void {
    this.#pages[page - 1]?.push(...marks);
  }
  skip(mm: number): void {
    if (!this.isFresh) this.y += mm;
  }

  /** The height of a paragraph in bold type, in millimetres. */
  heightOf(words: string, sizePt: number): number {
    return wrapped(words, sizePt, this.span, 'bold').length * lineMm(sizePt);
  }

  /** A paragraph in lines as wide as the page; goes on overleaf. */
  words(
    words: string,
    sizePt: number,
    { indentMm = 0, weight = 'regular', grey = false }: Words = {},
  ): void {
    const step = lineMm(sizePt);
    for (const each of wrapped(words, sizePt, this.span - indentMm, weight)) {
      this.need(step);
      this.y += step;
      this.add(text(this.left + indentMm, this.y - 0.27 * step, each, sizePt, { weight, grey }));
    }
  }

  rule(widthMm?: number): void {
    this.add(line([this.left, this.y], [this.right, this.y], widthMm));
  }

  drawing(): Drawing {
    const count = this.#pages.length;
    const foot = this.height - MARGIN_MM;
    return {
      title: this.#title,
      pages: this.#pages.map((marks, index) => {
        const number = count === 1 ? '' : `${index + 1} of ${count}`;
        return {
          width: this.width,
          height: this.height,
          marks: [
            ...marks,
            line([this.left, foot - 4], [this.right, foot - 4], undefined, 0.4),
            text(this.left, foot, cut(this.#title, FOOT_PT, this.span - 24), FOOT_PT, {
              grey: true,
            }),
            ...(number === ''
              ? []
              : [text(this.right, foot, number, FOOT_PT, { align: 'end', grey: true })]),
          ],
        };
      }),
    };
  }
}
