const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string | number) => String(text).replace(/[&<>"]/g, (sign) => ESCAPES[sign]!);

export type Attributes = Readonly<Record<string, string | number>>;

/** One element with its attributes and what it holds: finished elements, or one text. */
export function element(
  name: string,
  content: readonly string[] | string | number = [],
  attributes: Attributes = {},
): string {
  const named = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(value)}"`)
    .join('');
  const inner = Array.isArray(content) ? content.join('') : escaped(content as string | number);
  return inner === '' ? `<${name}${named}/>` : `<${name}${named}>${inner}</${name}>`;
}
