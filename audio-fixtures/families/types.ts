import type { NoiseSide } from '../noises/index.ts';
import type { Bank } from '../banks/types.ts';
import type { TrueNote } from '../planned.ts';
import type { Random } from '../random.ts';

export interface Setting {
  readonly bank: Bank;
  readonly random: Random;
  readonly sampleRate: number;
  /** Which recorded noises may be used. */
  readonly noises: NoiseSide;
}
export interface Made {
  readonly signal: Float32Array;
  readonly truth: readonly TrueNote[];
  readonly tuningCents?: number;
  /** Where recorded noises were laid in, and how long they may be taken for a note. */
  readonly noises?: readonly { readonly fromSec: number; readonly toSec: number }[];
}
export interface Family {
  /** What it is for, in a line. */
  readonly what: string;
  /** Instruments it is made with. */
  readonly plays: 'guitar' | 'bass' | 'both';
  /** Banks that cannot be played so. */
  readonly without?: readonly string[];
  /** Where it needs a program that may be absent: is it there? */
  readonly installed?: () => boolean;
  readonly make: (setting: Setting) => Made;
}
