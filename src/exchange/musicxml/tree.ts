import { unzipSync } from 'fflate';
import { XMLParser } from 'fast-xml-parser';
import { ExchangeError } from '../error.ts';

/** An element: its name, attributes, text and children in order. */
export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly text: string;
  readonly children: readonly Node[];
}

/** A phrase of sixteen bars is some 100 kB. */
const MOST_BYTES = 2 ** 22;
const tooLarge = () => new ExchangeError('The MusicXML file is larger than 4 MiB; export the phrase alone.');
const foreign = () => new ExchangeError('The file is not MusicXML; export it as MusicXML and try again.');
const damaged = (cause: unknown) =>
  new ExchangeError('The MusicXML file is damaged or cut short; export it again.', { cause });

// Entities are left as they stand: a file may not make the reader expand them without end.
const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseTagValue: false,
  parseAttributeValue: false,
  processEntities: false,
  ignoreDeclaration: true,
  ignorePiTags: true,
});

type Raw = Readonly<Record<string, unknown>>;

function nodesOf(raw: readonly Raw[]): Node[] {
  return raw.flatMap((entry) => {
    const name = Object.keys(entry).find((key) => key !== ':@' && key !== '#text');
    if (name === undefined) return [];
    const inner = entry[name] as readonly Raw[];
    const text = inner.map((child) => (typeof child['#text'] === 'string' ? child['#text'] : '')).join('');
    return [
      {
        name,
        attributes: (entry[':@'] ?? {}) as Record<string, string>,
        text: text.trim(),
        children: nodesOf(inner),
      },
    ];
  });
}

/** The score inside a compressed file (.mxl): the first root file that its container names. */
function unpacked(bytes: Uint8Array): Uint8Array {
  let files: Readonly<Record<string, Uint8Array>>;
  try {
    files = unzipSync(bytes, {
      filter: (file) => file.originalSize <= MOST_BYTES && file.size <= MOST_BYTES,
    });
  } catch (cause) {
    throw damaged(cause);
  }
  const container = files['META-INF/container.xml'];
  const path = container ? find(parseXml(container), 'rootfile')?.attributes['full-path'] : undefined;
  const score = path === undefined ? undefined : files[path];
  if (!score) throw new ExchangeError('The compressed MusicXML file holds no score; export it again.');
  return score;
}

function parseXml(bytes: Uint8Array): Node {
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const encoding = utf16 ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8';
  const text = new TextDecoder(encoding).decode(bytes);
  // A file of another kind is better told so than called damaged.
  if (!/<(score-partwise|score-timewise|container)\b/.test(text)) throw foreign();
  try {
    const root = nodesOf(parser.parse(text, true) as readonly Raw[])[0];
    if (root) return root;
  } catch (cause) {
    throw damaged(cause);
  }
  throw foreign();
}

/** The root of a MusicXML file, plain or compressed. @throws ExchangeError where there is none. */
export function readTree(bytes: Uint8Array): Node {
  if (bytes.length === 0) throw new ExchangeError('The file is empty; export it as MusicXML and try again.');
  if (bytes.length > MOST_BYTES) throw tooLarge();
  const zipped = bytes[0] === 0x50 && bytes[1] === 0x4b;
  return parseXml(zipped ? unpacked(bytes) : bytes);
}

export const child = (node: Node, name: string): Node | undefined =>
  node.children.find((c) => c.name === name);
export const childrenOf = (node: Node, name: string): readonly Node[] =>
  node.children.filter((c) => c.name === name);

/** The first element of that name anywhere under a node. */
export function find(node: Node, name: string): Node | undefined {
  for (const c of node.children) {
    const found = c.name === name ? c : find(c, name);
    if (found) return found;
  }
  return undefined;
}

/** A number in a child element; `otherwise` where there is no such element. */
export function numberIn(node: Node, name: string, otherwise?: number): number {
  const text = child(node, name)?.text;
  if (text === undefined && otherwise !== undefined) return otherwise;
  const value = text === undefined || text === '' ? NaN : Number(text);
  if (!Number.isFinite(value))
    throw new ExchangeError(`The MusicXML file has no number in <${name}>; export it again.`);
  return value;
}
