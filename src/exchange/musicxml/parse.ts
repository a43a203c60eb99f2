import { SaxesParser } from 'saxes';
import { ExchangeError } from '../error.ts';
import { MOST } from '../limits.ts';
import type { Node } from './node.ts';

interface Growing extends Node {
  text: string;
  readonly children: Growing[];
}

/**
 * The root element of an XML text, in one pass: time and memory grow with its length, whatever stands in it (saxes
 * reads sign by sign; the library before it searched each tag again for every space in it). Entities are left as they
 * stand: a file may not make the reader expand them without end, and those of MusicXML's own DTD name letters of titles.
 *
 * @throws ExchangeError beyond the limits; Error where it is not well formed. Null where there is no element.
 */
export function parseTree(text: string): Node | null {
  const parser = new SaxesParser({ fragment: false });
  const open: Growing[] = [];
  let root: Growing | null = null;
  let count = 0;
  parser.on('error', (error) => {
    if (!error.message.includes('undefined entity')) throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    if (++count > MOST.xmlElements) throw new ExchangeError('xml-elements', { most: MOST.xmlElements });
    if (open.length >= MOST.xmlDepth) throw new ExchangeError('xml-deep');
    const node: Growing = { name, attributes: attributes as Record<string, string>, text: '', children: [] };
    open.at(-1)?.children.push(node);
    root ??= node;
    open.push(node);
  });
  parser.on('text', (words) => {
    const node = open.at(-1);
    if (node) node.text += words;
  });
  parser.on('closetag', () => {
    const node = open.pop()!;
    node.text = node.text.trim();
  });
  parser.write(text).close();
  return root;
}
