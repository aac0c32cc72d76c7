/** Elements of XML as text, well-formed whatever they hold. */

export type XmlContent = string | number | readonly XmlContent[] | XmlText;

/** An element that has been written. */
export interface XmlText {
  readonly xml: string;
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

/** Text with what XML 1.0 does not allow at all left out, and what it uses itself written as entities. */
const escaped = (text: string): string =>
  text

    .replace(
      /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g,
      '',
    )
    .replace(/[&<>"]/g, (sign) => ENTITIES[sign] ?? '');

function written(content: XmlContent): string {
  if (typeof content === 'number') return String(content);
  if (typeof content === 'string') return escaped(content);
  return 'xml' in content ? content.xml : content.map(written).join('');
}

/** One element: `el('step', {}, 'C')`. */
export function el(
  name: string,
  attributes: Readonly<Record<string, string | number>> = {},
  ...content: readonly XmlContent[]
): XmlText {
  const set = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(String(value))}"`)
    .join('');
  const inside = content.map(written).join('');
  return { xml: inside === '' ? `<${name}${set}/>` : `<${name}${set}>${inside}</${name}>` };
}

/** A list that is left out where there is nothing to say. */
export const when = (
  condition: boolean,
  ...content: readonly XmlContent[]
): readonly XmlContent[] => (condition ? content : []);
