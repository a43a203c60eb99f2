import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { FLUID_PATH } from '../banks/fluid.ts';
import { readPatch } from '../banks/gusPatch.ts';
import { MADE_RATE, madeNoise } from './made.ts';
import type { NoiseKind, NoiseSource } from './reading.ts';
import { HAND, HYDROGEN, MORE_SOURCES } from './moreSources.ts';
import { decoded, inFont, strengths } from './reading.ts';

export type { NoiseKind, NoiseSide, NoiseSource } from './reading.ts';

const numbered = (kind: NoiseKind, count: number): string[] =>
  Array.from({ length: count }, (_, i) => `${kind} ${i + 1}`);

const LMMS = '/usr/share/lmms/samples';
const FREEPATS = '/usr/share/midi/freepats/Drum_000';
const SONIC_PI = '/usr/share/sonic-pi/samples';

/** Debian packages, each optional, and what is made here. */
export const NOISE_SOURCES: Readonly<Record<string, NoiseSource>> = {
  'fluid-soundfont-gm': {
    side: 'fit',
    path: FLUID_PATH,
    names: {
      body: [
        ...['', ' 1', ' 2', ' 3', ' 4', ' 5', ' 6', ' 7'].map((n) => `Std Kick${n}(L)`),
        'Closed Slap(L)',
        'Low Bongo(L)',
        'High Conga(L)',
      ],
      tap: [
        'Sticks(L)',
        'Rim Tap(L)',
        'Bongo Rim(L)',
        'Castanet',
        'Clap(L)',
        'High Woodblock(L)',
        'Low Woodblock(L)',
      ],
      rub: [
        'Fretnoise',
        'Breath Noise',
        'Guiro Up(L)',
        'Guiro Down(L)',
        'Cabasa(L)',
        'Scratch Pull(L)',
        'Scratch Push(L)',
      ],
    },
    read: inFont(FLUID_PATH),
  },
  'hydrogen-drumkits': {
    side: 'fit',
    path: HYDROGEN,
    names: {
      body: strengths('CajonThumps', 'Softest', 'Soft', 'Med', 'Hard'),
      tap: [
        ...strengths('CajonSlaps', 'Softest', 'Med', 'Hard'),
        ...strengths('Fingersnap', 'Soft', 'Hard'),
        ...strengths('WoodBlock', 'Softest', 'Hard'),
      ],
      rub: strengths('Maraca', 'Softest', 'Med', 'Hard'),
    },
    read: (name) => decoded(join(HYDROGEN, HAND, `${name}.wav`)),
  },
  ...MORE_SOURCES,
  'made here': {
    side: 'more',
    path: import.meta.dirname,
    names: { body: numbered('body', 60), tap: numbered('tap', 40), rub: numbered('rub', 20) },
    read: (name) =>
      Promise.resolve({
        pcm: madeNoise(name.split(' ')[0] as NoiseKind, name),
        sampleRate: MADE_RATE,
      }),
  },
  'lmms-common': {
    side: 'tried',
    path: LMMS,
    names: {
      body: [
        ...['bassdrum01', 'bassdrum02', 'bassdrum_acoustic01', 'bassdrum_acoustic02', 'kick_soft01'],
        ...['tom01', 'tom02', 'tom03', 'tom04', 'tom05', 'tom_hi01', 'tom_low01', 'tom_mid01'],
      ].map((name) => `drums/${name}`),
      tap: [
        ...['clap01', 'clap02', 'clap03', 'clav01', 'rim01', 'sidestick01', 'snare_rim01', 'wood01'].map(
          (name) => `drums/${name}`,
        ),
        'misc/snaph01',
      ],
      rub: [
        ...['shaker01', 'shaker02', 'shaker03', 'hihat_foot_pedal01'].map((name) => `drums/${name}`),
        'misc/breath01',
      ],
    },
    read: (name) => decoded(join(LMMS, `${name}.ogg`)),
  },
  freepats: {
    side: 'kept',
    path: FREEPATS,
    names: {
      body: ['035_Kick_1', '036_Kick_2', '062_Conga_High_1_Mute', '061_Bongo_Low', '041_Tom_Low_2'],
      tap: [
        '031_Sticks',
        '037_Stick_Rim',
        '026_Snap',
        '039_Clap_Hand',
        '076_Wood_Block_1_High',
        '077_Wood_Block_2_Low',
      ],
      rub: ['069_Cabasa', '073_Guiro_1_Short', '082_Shaker'],
    },
    read: (name) => Promise.resolve(readPatch(join(FREEPATS, `${name}.pat`))[0]!),
  },
  'sonic-pi-samples': {
    side: 'kept',
    path: SONIC_PI,
    names: {
      body: ['perc_door', 'perc_impact1', 'perc_impact2', 'drum_bass_soft', 'tabla_ghe3', 'tabla_ghe7'],
      tap: [
        'perc_snap',
        'perc_snap2',
        'tabla_ke1',
        'tabla_ke2',
        'tabla_te1',
        'tabla_te2',
        'tabla_tas1',
        'elec_wood',
      ],
      rub: ['perc_swash', 'vinyl_scratch', 'tabla_re'],
    },
    read: (name) => decoded(join(SONIC_PI, `${name}.flac`)),
  },
};

export const noiseSourceInstalled = ({ path }: NoiseSource): boolean => existsSync(path);
