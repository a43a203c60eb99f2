import { attackIndex } from './attack.ts';
import { lowPassOnce } from './effects/filters.ts';
import { resampleAt } from './resample.ts';
import type { PlannedNote } from './planned.ts';
import type { RecordedNote } from './banks/types.ts';

/** One note's sound before it is laid into the take. */
export interface Voice {
  readonly pcm: Float32Array;
  /** Index of its attack in `pcm`, measured after every change of speed and tone. */
  readonly attack: number;
}

/** A soft stroke is a dull one: the low-pass falls an octave for every 8 dB under −3 dB. */
const DULLS_BELOW_DB = -3;
const DULLS_OCTAVE_DB = 8;
const BRIGHT_HZ = 12_000;
/** A bend never goes beyond this: sets the anti-alias band of the moving read. */
const WIDEST_BEND = 2 ** (200 / 1200);

/** Recordings are kept from 15 ms before their attack: it and its peak lie well within this. */
const ATTACK_WITHIN_SEC = 0.4;

const attacks = new WeakMap<RecordedNote, number>();
/** Index of the attack in the recording, measured once. */
function recordedAttack(recording: RecordedNote): number {
  let at = attacks.get(recording);
  if (at === undefined) {
    const head = recording.pcm.subarray(0, Math.round(ATTACK_WITHIN_SEC * recording.sampleRate));
    attacks.set(recording, (at = attackIndex(head, recording.sampleRate)));
  }
  return at;
}

/** A finger's flesh instead of a plectrum: duller, and a few milliseconds until the string is let go. */
function softenTouch(
  pcm: Float32Array,
  attack: number,
  finger: NonNullable<PlannedNote['finger']>,
  sampleRate: number,
): void {
  lowPassOnce(pcm, finger.lowPassHz, sampleRate);
  const from = Math.floor(attack);
  const length = finger.riseSec * sampleRate;
  for (let i = 0; i < pcm.length && i < from + length; i++)
    pcm[i]! *= i < from ? 0.1 : 0.1 + (0.9 * (i - from)) / length;
}

/** RMS of `pcm` between two indices; beyond its ends it counts as silence. */
export function rms(pcm: Float32Array, from: number, to: number): number {
  let sum = 0;
  for (let i = Math.max(0, from); i < Math.min(to, pcm.length); i++) sum += pcm[i]! ** 2;
  return Math.sqrt(sum / Math.max(1, to - from));
}

/** Falls by 60 dB over `seconds`, straight in decibels, from index `from` on. */
export function damp(pcm: Float32Array, from: number, seconds: number, sampleRate: number): void {
  const step = 10 ** (-3 / (seconds * sampleRate));
  let gain = 1;
  for (let i = Math.max(0, from); i < pcm.length; i++) pcm[i]! *= gain *= step;
}

/** The recording read so that it sounds at `soundingMidi`, for `seconds` after its attack. */
export function makeVoice(
  note: PlannedNote,
  recording: RecordedNote,
  soundingMidi: number,
  seconds: number,
  sampleRate: number,
): Voice {
  const speed = 2 ** ((soundingMidi - recording.midi) / 12) * (recording.sampleRate / sampleRate);
  const attackRead = recordedAttack(recording);
  const wanted = Math.ceil(attackRead / speed + seconds * sampleRate);
  const available = Math.floor(recording.pcm.length / speed);
  let pcm: Float32Array;
  if (note.bend) {
    const { bend } = note;
    let place = 0;
    const read = (i: number): number => {
      const here = place;
      place += speed * 2 ** (bend(Math.max(0, (i - attackRead / speed) / sampleRate)) / 1200);
      return here;
    };
    pcm = resampleAt(recording.pcm, wanted, read, speed * WIDEST_BEND);
  } else pcm = resampleAt(recording.pcm, Math.min(wanted, available), (i) => i * speed, speed);
  if (note.levelDb < DULLS_BELOW_DB)
    lowPassOnce(pcm, BRIGHT_HZ * 2 ** ((note.levelDb - DULLS_BELOW_DB) / DULLS_OCTAVE_DB), sampleRate);
  if (note.mute) lowPassOnce(pcm, note.mute.lowPassHz, sampleRate);
  if (note.finger) softenTouch(pcm, attackRead / speed, note.finger, sampleRate);
  const attack = attackIndex(pcm.subarray(0, Math.round(ATTACK_WITHIN_SEC * sampleRate)), sampleRate);
  if (note.mute) damp(pcm, attack, note.mute.decaySec * 3 * Math.LN10, sampleRate);
  return { pcm, attack };
}
