/**
 * What a staff is drawn on where there is no page: as much of a document as `abcjs` asks of one. Marks are kept with
 * what they are given, and words are measured as paper sets them.
 */
import { widthPt, type Weight } from './type/faces';

/** Height of a line of type, as a part of its size. */
const LINE = 1.2;

/** One mark, and what lies in it. */
class SheetMark {
  readonly tagName: string;
  readonly children: SheetMark[] = [];
  readonly style: Record<string, string> = {};
  readonly classList = { add: (): void => undefined, remove: (): void => undefined, length: 0 };
  readonly #given = new Map<string, string>();
  parentNode: SheetMark | null = null;
  #text = '';

  constructor(tagName: string) {
    this.tagName = tagName;
  }

  get parentElement(): SheetMark | null {
    return this.parentNode;
  }
  get firstChild(): SheetMark | null {
    return this.children[0] ?? null;
  }
  get textContent(): string {
    return this.#text + this.children.map((each) => each.textContent).join('');
  }
  set textContent(text: string) {
    this.children.length = 0;
    this.#text = text;
  }
  get innerHTML(): string {
    return '';
  }
  /** Nothing but emptying is asked for. */
  set innerHTML(_markup: string) {
    this.textContent = '';
  }

  getAttribute(name: string): string | null {
    return this.#given.get(name) ?? null;
  }
  setAttribute(name: string, value: unknown): void {
    this.#given.set(name, String(value));
  }
  setAttributeNS(_space: string | null, name: string, value: unknown): void {
    this.setAttribute(name, value);
  }
  removeAttribute(name: string): void {
    this.#given.delete(name);
  }
  addEventListener(): void {
    // nobody presses anything on paper
  }

  appendChild(mark: SheetMark): SheetMark {
    return this.insertBefore(mark, null);
  }
  insertBefore(mark: SheetMark, before: SheetMark | null): SheetMark {
    mark.parentNode?.removeChild(mark);
    const at = before === null ? -1 : this.children.indexOf(before);
    this.children.splice(at < 0 ? this.children.length : at, 0, mark);
    mark.parentNode = this;
    return mark;
  }
  removeChild(mark: SheetMark): SheetMark {
    const at = this.children.indexOf(mark);
    if (at >= 0) this.children.splice(at, 1);
    mark.parentNode = null;
    return mark;
  }

  querySelectorAll(tag: string): SheetMark[] {
    return this.children.flatMap((each) => [
      ...(each.tagName === tag ? [each] : []),
      ...each.querySelectorAll(tag),
    ]);
  }
  querySelector(tag: string): SheetMark | null {
    return this.querySelectorAll(tag)[0] ?? null;
  }

  /** The room that words take: their longest line, and as many lines as there are. */
  getBBox(): { x: number; y: number; width: number; height: number } {
    const size = Number(this.getAttribute('font-size') ?? 0);
    const weight: Weight = this.getAttribute('font-weight') === 'bold' ? 'bold' : 'regular';
    const lines = this.children.length === 0 ? [this] : this.children;
    const widths = lines.map(({ textContent }) => widthPt(textContent, size, weight));
    return { x: 0, y: 0, width: Math.max(0, ...widths), height: lines.length * size * LINE };
  }
}

/** As much of a document as is asked for. */
export class PaperSheet {
  readonly body = new SheetMark('body');

  createElement(tag: string): SheetMark {
    return new SheetMark(tag);
  }
  createElementNS(_space: string, tag: string): SheetMark {
    return new SheetMark(tag);
  }
  createTextNode(text: string): SheetMark {
    const mark = new SheetMark('#text');
    mark.textContent = text;
    return mark;
  }
  querySelector(tag: string): SheetMark | null {
    return tag === 'body' ? this.body : this.body.querySelector(tag);
  }
}
