import { parseMidi } from 'midi-file';
import { isMidi } from '../midi/isMidi.ts';
import { childrenOf, find, readTree } from '../musicxml/tree.ts';

/** Longer names are cut where names are kept. */
const MOST_SIGNS = 80;

const named = (text: string | undefined): string | null => {
  const name = (text ?? '').replace(/\s+/g, ' ').trim();
  return name === '' ? null : name.slice(0, MOST_SIGNS).trim();
};

/** Texts of MIDI files are bytes: UTF-8 in present programs, Latin-1 in older ones. */
function decoded(text: string): string {
  const bytes = Uint8Array.from(text, (sign) => sign.charCodeAt(0));
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return text;
  }
}

/** Words that programs write where nobody gave a title. */
const NO_TITLE = /^(untitled( score)?|title|music21( fragment)?|tempo( track)?|control track)$/i;

/**
 * What a file calls its music: MusicXML's work, movement or printed title, a MIDI file's name of its first track;
 * at most 80 signs. null where it has none, or cannot be read: whoever reads the notes says so.
 */
export function titleIn(bytes: Uint8Array): string | null {
  try {
    const name = isMidi(bytes) ? midiTitle(bytes) : xmlTitle(bytes);
    return name === null || NO_TITLE.test(name) ? null : name;
  } catch {
    return null;
  }
}

function midiTitle(bytes: Uint8Array): string | null {
  const name = parseMidi(bytes).tracks[0]?.find((event) => event.type === 'trackName');
  return named(name?.type === 'trackName' ? decoded(name.text) : undefined);
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

/** The reader of trees expands no entities (a file may hold bombs of them): the five of XML and numbers are ours. */
const expanded = (text: string | undefined): string | undefined =>
  text?.replace(/&(?:#(\d{1,7})|#x([0-9a-f]{1,6})|(amp|lt|gt|quot|apos));/gi, (whole, ten, hex, name) => {
    if (name) return ENTITIES[String(name).toLowerCase()]!;
    const code = ten ? Number(ten) : parseInt(String(hex), 16);
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : String(whole);
  });

function xmlTitle(bytes: Uint8Array): string | null {
  const root = readTree(bytes);
  const printed = childrenOf(root, 'credit').find((credit) => find(credit, 'credit-type')?.text === 'title');
  return (
    named(expanded(find(root, 'work-title')?.text)) ??
    named(expanded(find(root, 'movement-title')?.text)) ??
    named(expanded(printed && find(printed, 'credit-words')?.text))
  );
}
