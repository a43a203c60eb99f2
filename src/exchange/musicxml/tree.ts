import { ExchangeError } from '../error.ts';
import { TooMuch } from '../inflate.ts';
import { MOST } from '../limits.ts';
import { readZip } from '../zip/read.ts';
import type { Node } from './node.ts';
import { parseTree } from './parse.ts';

export type { Node } from './node.ts';

const tooLarge = () => new ExchangeError('xml-large');
const foreign = () => new ExchangeError('xml-foreign');
const damaged = (cause: unknown) => new ExchangeError('xml-damaged', {}, { cause });

const CONTAINER = 'META-INF/container.xml';

/** The score inside a compressed file (.mxl): the first root file that its container names. Nothing else is opened. */
function unpacked(bytes: Uint8Array): Uint8Array {
  try {
    const zip = readZip(bytes);
    const container = zip.open(CONTAINER, MOST.xmlBytes);
    const path = container ? find(parseXml(container), 'rootfile')?.attributes['full-path'] : undefined;
    const score = path === undefined ? null : zip.open(path, MOST.xmlBytes);
    if (score) return score;
  } catch (cause) {
    if (cause instanceof ExchangeError) throw cause;
    throw cause instanceof TooMuch ? tooLarge() : damaged(cause);
  }
  throw new ExchangeError('xml-no-score');
}

function parseXml(bytes: Uint8Array): Node {
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const encoding = utf16 ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8';
  const text = new TextDecoder(encoding).decode(bytes);
  // A file of another kind is better told so than called damaged.
  if (!/<(score-partwise|score-timewise|container)\b/.test(text)) throw foreign();
  let root: Node | null;
  try {
    root = parseTree(text);
  } catch (cause) {
    throw cause instanceof ExchangeError ? cause : damaged(cause);
  }
  if (!root) throw foreign();
  return root;
}

/** The root of a MusicXML file, plain or compressed. @throws ExchangeError where there is none. */
export function readTree(bytes: Uint8Array): Node {
  if (bytes.length === 0) throw new ExchangeError('xml-empty');
  if (bytes.length > MOST.xmlBytes) throw tooLarge();
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
  if (!Number.isFinite(value)) throw new ExchangeError('xml-no-number', { element: name });
  return value;
}
