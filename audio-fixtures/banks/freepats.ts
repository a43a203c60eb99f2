import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { cachedNote } from './cache.ts';
import { readPatch } from './gusPatch.ts';
import { sustained } from './sustained.ts';
import type { Bank, RecordedNote } from './types.ts';

/** Debian's freepats (GPL-2+, read where it is installed): recordings of other instruments than FluidR3's. Optional. */
const FOLDER = '/usr/share/midi/freepats/Tone_000';

/** `count`: how many of the file's recordings are used. Nylon's eighth is an octave louder than its fundamental: no truth. */
export const FREEPATS_BANKS = {
  'freepats-nylon': { file: '024_Nylon_Guitar.pat', instrument: 'guitar', count: 7 },
  'freepats-steel': { file: '025_Steel_Guitar.pat', instrument: 'guitar' },
  'freepats-jazz': { file: '026_Jazz_Guitar.pat', instrument: 'guitar' },
  'freepats-clean': { file: '027_Clean_Electric_Guitar.pat', instrument: 'guitar' },
  'freepats-distorted': { file: '030_Distortion_Guitar.pat', instrument: 'guitar' },
  'freepats-fingered': { file: '033_Finger_Bass.pat', instrument: 'bass' },
} as const satisfies Record<string, { file: string; instrument: Bank['instrument']; count?: number }>;
export type FreepatsBankName = keyof typeof FREEPATS_BANKS;

/** One bank of the patches, notes by rising pitch; null where they are not installed. */
export async function loadFreepatsBank(name: FreepatsBankName): Promise<Bank | null> {
  const { file, instrument, count }: { file: string; instrument: Bank['instrument']; count?: number } =
    FREEPATS_BANKS[name];
  const path = join(FOLDER, file);
  if (!existsSync(path)) return null;
  const notes: RecordedNote[] = [];
  for (const [i, { pcm, sampleRate, loopStart, loopEnd }] of readPatch(path).slice(0, count).entries())
    notes.push(
      await cachedNote({
        bank: name,
        name: String(i),
        sampleRate,
        written: null, // their root frequencies include the tuning wheel: the sound is measured
        decode: () => sustained(pcm, loopStart, loopEnd, sampleRate),
      }),
    );
  notes.sort((a, b) => a.midi - b.midi);
  return { name, instrument, notes };
}
