import type { Conditions } from '../../../audio-fixtures/bleed/scene.ts';

/**
 * The cells of the bleed benchmark, and the note F1 that each has to reach; in which of them the recording is also
 * heard as it is.
 */
export const CONDITIONS: readonly {
  readonly name: string;
  readonly is: Conditions;
  readonly reach: number | null;
  readonly nothing?: true;
}[] = [
  { name: 'no bleed', is: { bleedDb: null, rt60: 0.4 }, reach: 0.97 },
  { name: '-10 dB, RT60 0.4', is: { bleedDb: -10, rt60: 0.4 }, reach: 0.96, nothing: true },
  { name: '0 dB, RT60 0.4', is: { bleedDb: 0, rt60: 0.4 }, reach: 0.95, nothing: true },
  { name: '0 dB, RT60 0.2', is: { bleedDb: 0, rt60: 0.2 }, reach: 0.95 },
  { name: '+6 dB, RT60 0.4', is: { bleedDb: 6, rt60: 0.4 }, reach: 0.93, nothing: true },
  { name: '+6 dB, noodling', is: { bleedDb: 6, rt60: 0.4, noodling: true }, reach: 0.92 },
  { name: '+6 dB, 2.67 ms glitch', is: { bleedDb: 6, rt60: 0.4, glitchFrames: 118 }, reach: 0.92 },
  { name: '+6 dB, 50 ppm', is: { bleedDb: 6, rt60: 0.4, driftPpm: 50 }, reach: 0.92 },
  { name: '+6 dB, moved 10 cm', is: { bleedDb: 6, rt60: 0.4, movedM: 0.1 }, reach: 0.88 },
  { name: '+10 dB, RT60 0.6', is: { bleedDb: 10, rt60: 0.6 }, reach: 0.8, nothing: true },
  { name: 'silent, +0 dB', is: { bleedDb: 0, rt60: 0.4, silent: true }, reach: null },
];
