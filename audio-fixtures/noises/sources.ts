import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { BANK_RATE, decodeFile } from '../banks/decode.ts';
import { FLUID_PATH } from '../banks/fluid.ts';
import { readPatch } from '../banks/gusPatch.ts';
import { openSoundFont } from '../banks/soundFont.ts';

/** A blow on a hollow body, a hard tap or click, something rubbed. */
export type NoiseKind = 'body' | 'tap' | 'rub';

/** Recorded noises of one origin: what no string gives. See README.md for licences. */
export interface NoiseSource {
  /**
   * `fit`: what the decision may learn from; `more`: what the third look may learn from besides; `kept`: what neither hears
   * before it is judged.
   */
  readonly side: 'fit' | 'more' | 'kept';
  readonly path: string;
  /** Names of recordings by kind. */
  readonly names: Readonly<Record<NoiseKind, readonly string[]>>;
  readonly read: (name: string) => Promise<{ pcm: Float32Array; sampleRate: number }>;
}

const strengths = (name: string, ...of: string[]): string[] => of.map((how) => `${name}-${how}`);
const wav = (name: string): string => `${name}.wav`;
const decoded = async (path: string) => ({ pcm: await decodeFile(path), sampleRate: BANK_RATE });

const HYDROGEN = '/usr/share/hydrogen/data/drumkits';
const [HAND, AFRICA, COLOMBO, PEARL] = [
  'Gimme A Hand 1.0',
  'circAfrique v4',
  'ColomboAcousticDrumkit',
  'The Black Pearl 1.0',
];
const FREEPATS = '/usr/share/midi/freepats/Drum_000';
const SONIC_PI = '/usr/share/sonic-pi/samples';

/** Debian packages, each optional. */
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
    read: (name) => {
      const font = openSoundFont(FLUID_PATH);
      const sample = font.samples.find((s) => s.name === name);
      if (!sample) throw new RangeError(`${FLUID_PATH} has no recording "${name}"`);
      return Promise.resolve({ pcm: font.read(sample), sampleRate: sample.sampleRate });
    },
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
  'hydrogen-drumkits, more of them': {
    side: 'more',
    path: HYDROGEN,
    names: {
      body: [
        ...strengths(`${HAND}/CajonThumps`, 'Softest', 'Soft', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/BongoLo`, 'Softest', 'Med', 'Hard').map(wav),
        ...[1, 2, 3, 4, 5].flatMap((n) => [`${AFRICA}/Djembe${n} Bass.wav`, `${AFRICA}/Djembe${n} Tone.wav`]),
        ...['Dununba1', 'Kenkeni1', 'Sangban1'].flatMap((drum) => [
          `${AFRICA}/${drum} Head Hit.wav`,
          `${AFRICA}/${drum} Head Mute.wav`,
        ]),
        ...[
          'bassdrum-4mics-br-stereo-soft2',
          'bassdrum-4mics-br-stereo-normal3',
          'tom-low-1',
          'tom-mid-1',
        ].map((name) => `${COLOMBO}/${name}.flac`),
        ...strengths(`${PEARL}/PearlKick`, 'Softest', 'Soft', 'Hard').map(wav),
      ],
      tap: [
        ...strengths(`${HAND}/CajonSlaps`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/BongoHi`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/Fingersnap`, 'Soft', 'Hard').map(wav),
        ...strengths(`${HAND}/WoodBlock`, 'Softest', 'Hard').map(wav),
        ...strengths(`${HAND}/Clave`, 'Softest', 'Hard').map(wav),
        ...[1, 2, 3, 4, 5].map((n) => `${AFRICA}/Djembe${n} Slap.wav`),
        `${COLOMBO}/stick-rim-9.flac`,
        `${COLOMBO}/tom-hi-1.flac`,
        ...strengths(`${PEARL}/PearlSideStick`, 'Hard', 'Hardest').map(wav),
      ],
      rub: [
        ...strengths(`${HAND}/Maraca`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${PEARL}/SabianHatSwish`, 'Softest', 'Med').map(wav),
      ],
    },
    read: (name) => decoded(join(HYDROGEN, name)),
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
