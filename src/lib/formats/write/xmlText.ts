/** Elements of XML as text, well-formed whatever they hold. */
import { escapeXml } from '../escapeXml';

export type XmlContent = string | number | readonly XmlContent[] | XmlText;

/** An element that has been written. */
export interface XmlText {
  readonly xml: string;
}

function written(content: XmlContent): string {
  if (typeof content === 'number') return String(content);
  if (typeof content === 'string') return escapeXml(content);
  return 'xml' in content ? content.xml : content.map(written).join('');
}

/** One element: `el('step', {}, 'C')`. */
export function el(
  name: string,
  attributes: Readonly<Record<string, string | number>> = {},
  ...content: readonly XmlContent[]
): XmlText {
  const set = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escapeXml(String(value))}"`)
    .join('');
  const inside = content.map(written).join('');
  return { xml: inside === '' ? `<${name}${set}/>` : `<${name}${set}>${inside}</${name}>` };
}

/** A list that is left out where there is nothing to say. */
export const when = (
  condition: boolean,
  ...content: readonly XmlContent[]
): readonly XmlContent[] => (condition ? content : []);
