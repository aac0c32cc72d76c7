/**
 * XML as a tree of elements, by the parser `saxes`, which fetches nothing. A document type may be
 * named; one that defines entities is refused, since those can grow without end. A long document is
 * read piece by piece: an element that is taken when it ends is not kept.
 */
import { SaxesParser } from 'saxes';
import type { DocumentFault } from '$lib/faults';
import { fault, type ScoreCode, type SentenceOf } from '$lib/scoreFaults';
import { ok, refuse, type Result } from '$lib/result';

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** Of the element itself, without that of its children. */
  readonly text: string;
}

interface Draft extends XmlElement {
  readonly children: Draft[];
  text: string;
  /** Elements kept before it began. */
  readonly before: number;
}

const DEEPEST = 64;
const MOST_ELEMENTS = 1_000_000;
/** Of those that are kept at once: the largest orchestral measures have a few thousand. */
const MOST_KEPT = 50_000;
const MOST_ATTRIBUTES = 100;
/** The parser gets the text in pieces of so many characters, so that nothing of it piles up. */
const PIECE = 65_536;

class Refused extends Error {
  readonly fault: DocumentFault;
  constructor(fault: DocumentFault) {
    super(fault.found);
    this.fault = fault;
  }
}

/** An element that has ended; true where it is taken out of the tree. `within` names its ancestors. */
export type Taking = (element: XmlElement, within: readonly XmlElement[]) => boolean;

/** The root element, or what is wrong and in which line. */
export function readXml(
  text: string,
  taken: Taking = () => false,
): Result<XmlElement, DocumentFault> {
  if (text.trim() === '') return refuse(fault('xml.empty', ''));
  const parser = new SaxesParser();
  const open: Draft[] = [];
  let root: Draft | undefined;
  let elements = 0;
  let kept = 0;
  let attributes = 0;
  const stop = <C extends ScoreCode>(code: C, ...of: SentenceOf<C>): never => {
    throw new Refused(fault(code, `line ${String(parser.line)}`, ...of));
  };
  parser.on('doctype', (doctype) => {
    if (/[[]|<!/u.test(doctype)) stop('xml.definitions');
  });
  parser.on('attribute', () => {
    if (++attributes > MOST_ATTRIBUTES) stop('xml.tooFull', MOST_ATTRIBUTES, 'attributes');
  });
  parser.on('opentag', ({ name, attributes: given }) => {
    attributes = 0;
    if (++elements > MOST_ELEMENTS) stop('xml.tooManyElements', MOST_ELEMENTS);
    if (open.length >= DEEPEST) stop('xml.tooDeep', DEEPEST);
    if (kept >= MOST_KEPT) stop('xml.tooFull', MOST_KEPT, 'elements');
    // no prototype: an attribute may have any name
    const own = Object.assign(Object.create(null) as Record<string, string>, given);
    const element: Draft = { name, attributes: own, children: [], text: '', before: kept++ };
    open.at(-1)?.children.push(element);
    root ??= element;
    open.push(element);
  });
  const addText = (piece: string): void => {
    const last = open.at(-1);
    if (last !== undefined) last.text += piece;
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('closetag', () => {
    const element = open.pop();
    if (element === undefined || !taken(element, open)) return;
    open.at(-1)?.children.pop();
    kept = element.before;
  });
  parser.on('error', (error) => stop('xml.malformed', plain(error.message)));
  try {
    for (let at = 0; at < text.length; at += PIECE) parser.write(text.slice(at, at + PIECE));
    parser.close();
  } catch (error) {
    if (error instanceof Refused) return refuse(error.fault);
    throw error;
  }
  if (root === undefined) return refuse(fault('xml.malformed', '', 'it has no elements'));
  return ok(root);
}

/** The parser's words for what is wrong: `1:7: unclosed tag: a.` without their place. */
const plain = (message: string): string => message.replace(/^\d+:\d+: /u, '').replace(/\.$/u, '');

/** The first child of a name. */
export const childOf = (element: XmlElement | undefined, name: string): XmlElement | undefined =>
  element?.children.find((child) => child.name === name);

/** The trimmed text of the first child of a name. */
export const textOf = (element: XmlElement | undefined, name: string): string | undefined =>
  childOf(element, name)?.text.trim();

/** The number in the first child of a name. */
export function numberOf(element: XmlElement | undefined, name: string): number | undefined {
  const text = textOf(element, name);
  const number = text === undefined || text === '' ? NaN : Number(text);
  return Number.isFinite(number) ? number : undefined;
}
