/**
 * XML as a tree of elements, by the parser `saxes`, which fetches nothing. A document type may be
 * named; one that defines entities is refused, since those can grow without end.
 */
import { SaxesParser } from 'saxes';
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
}

const DEEPEST = 64;
const MOST_ELEMENTS = 2_000_000;

class Refused extends Error {}

/** The root element, or a sentence about what is wrong and where. */
export function readXml(text: string): Result<XmlElement, string> {
  const parser = new SaxesParser();
  const open: Draft[] = [];
  let root: Draft | undefined;
  let elements = 0;
  const stop = (reason: string): never => {
    throw new Refused(reason);
  };
  parser.on('doctype', (doctype) => {
    if (/[[]|<!/u.test(doctype))
      stop('found a document type with definitions of its own; allowed is one that is only named');
  });
  parser.on('opentag', ({ name, attributes }) => {
    if (++elements > MOST_ELEMENTS) stop(`found more than ${MOST_ELEMENTS} elements`);
    if (open.length >= DEEPEST) stop(`found elements nested deeper than ${DEEPEST}`);
    // no prototype: an attribute may have any name
    const own = Object.assign(Object.create(null) as Record<string, string>, attributes);
    const element: Draft = { name, attributes: own, children: [], text: '' };
    open.at(-1)?.children.push(element);
    root ??= element;
    open.push(element);
  });
  parser.on('text', (piece) => {
    const last = open.at(-1);
    if (last !== undefined) last.text += piece;
  });
  parser.on('cdata', (piece) => {
    const last = open.at(-1);
    if (last !== undefined) last.text += piece;
  });
  parser.on('closetag', () => open.pop());
  parser.on('error', (error) => stop(`is not XML (${error.message})`));
  try {
    parser.write(text).close();
  } catch (error) {
    if (error instanceof Refused) return refuse(`Line ${String(parser.line)}: ${error.message}.`);
    throw error;
  }
  return root === undefined ? refuse('The file is not XML; it is empty.') : ok(root);
}

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
