import { existsSync } from 'node:fs';
import { cachedNote } from './cache.ts';
import { openSoundFont } from './soundFont.ts';
import { sustained } from './sustained.ts';
import type { FontSample, SoundFont } from './soundFont.ts';
import type { Bank, RecordedNote } from './types.ts';

/** Debian's fluid-soundfont-gm (MIT): raw recordings of instruments that the npm packs lack. Optional. */
export const FLUID_PATH = '/usr/share/sounds/sf2/FluidR3_GM.sf2';

export const FLUID_BANKS = {
  'fluid-clean': { samples: /^Clean F/, instrument: 'guitar', loops: true },
  'fluid-jazz': { samples: /^Jazz Guitar /, instrument: 'guitar', loops: true },
  'fluid-steel': { samples: /^Steel [A-G]\d$/, instrument: 'guitar', loops: true },
  'fluid-nylon': { samples: /^Nylon [A-G]\d$/, instrument: 'guitar', loops: true },
  'fluid-muted': { samples: /^PalmMuted Guitar/, instrument: 'guitar', loops: false },
  'fluid-distorted': { samples: /^Distortion [A-G]\d$/, instrument: 'guitar', loops: true },
  'fluid-fingered': { samples: /^Finger Bass /, instrument: 'bass', loops: true },
  'fluid-picked': { samples: /^Picked Bass /, instrument: 'bass', loops: true },
  'fluid-slap': { samples: /^Slap Bass /, instrument: 'bass', loops: true },
  'fluid-fretless': { samples: /^Fretless /, instrument: 'bass', loops: true },
  'fluid-upright': { samples: /^Acoustic Bass /, instrument: 'bass', loops: true },
} as const;
export type FluidBankName = keyof typeof FLUID_BANKS;

function whole(font: SoundFont, sample: FontSample): Float32Array {
  const { start, loopStart, loopEnd, sampleRate } = sample;
  return sustained(font.read(sample), loopStart - start, loopEnd - start, sampleRate);
}

/** True where the sound font is installed. */
export const fluidInstalled = (): boolean => existsSync(FLUID_PATH);

let font: SoundFont | null = null;

/** One bank of the sound font, notes by rising pitch; null where the font is not installed. */
export async function loadFluidBank(name: FluidBankName): Promise<Bank | null> {
  if (!fluidInstalled()) return null;
  font ??= openSoundFont(FLUID_PATH);
  const open = font;
  const { samples, instrument, loops } = FLUID_BANKS[name];
  const notes: RecordedNote[] = [];
  for (const sample of open.samples.filter((s) => samples.test(s.name)))
    notes.push(
      await cachedNote({
        bank: name,
        name: `${sample.name.replaceAll(/\W/g, '_')}_${sample.start}`, // names are cut at 20 letters and repeat
        sampleRate: sample.sampleRate,
        written: null, // octaves and tunings of these names follow no one rule: the sound is measured
        decode: () => (loops ? whole(open, sample) : open.read(sample)),
      }),
    );
  notes.sort((a, b) => a.midi - b.midi);
  return { name, instrument, notes };
}
