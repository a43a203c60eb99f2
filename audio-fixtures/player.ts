import { damp, makeVoice, rms } from './voice.ts';
import type { Bank, RecordedNote } from './banks/types.ts';
import type { PlannedNote, TrueNote } from './planned.ts';
import type { Random } from './random.ts';

/** An ordinary stroke's RMS over its first 150 ms, full scale = 1; the take is levelled again at the end. */
export const STROKE_RMS = 10 ** (-24 / 20);
/** A slur goes on at the level it finds, but the finger gives the string something of its own: 14 dB under a stroke. */
const LEAST_SLUR_RMS = STROKE_RMS * 10 ** (-14 / 20);
const LEVELLED_OVER_SEC = 0.15;
/** The next-nearest recording is taken now and then, so that two plucks of a note are not one recording twice. */
const OTHER_RECORDING = { chance: 0.35, withinSemitones: 2.2 };
/** A stopping finger takes the note down by 60 dB in 25–60 ms; a re-pluck's pick stops the string in about 6 ms. */
const DAMP_SEC = [0.025, 0.06] as const;
const STOP_SEC = 0.006;
/** A slurred note is read from this long after its recording's attack. */
const PAST_ATTACK_SEC = 0.09;

export interface PerformOptions {
  readonly sampleRate: number;
  readonly durationSec: number;
  readonly random: Random;
  /** Added to every pitch; the truth keeps the note meant. */
  readonly tuningCents?: number;
}
export interface Performance {
  readonly signal: Float32Array;
  readonly truth: readonly TrueNote[];
}

function chooseRecording(bank: Bank, midi: number, random: Random): RecordedNote {
  const near = [...bank.notes].sort((a, b) => Math.abs(a.midi - midi) - Math.abs(b.midi - midi));
  const other = random.chance(OTHER_RECORDING.chance);
  return other && Math.abs(near[1]!.midi - midi) < OTHER_RECORDING.withinSemitones ? near[1]! : near[0]!;
}

/** Straight fade to nothing that ends at index `end`. */
function fadeOut(pcm: Float32Array, end: number, length: number): void {
  for (let i = Math.max(0, end - length); i < pcm.length; i++) pcm[i]! *= i >= end ? 0 : (end - i) / length;
}

/**
 * Plays planned notes with recorded ones.
 *
 * Each recording is read at the speed that gives its note its pitch, its attack measured *after* that, and
 * laid so that the attack falls on a whole sample: the truth is exact to that sample. A note whose time runs
 * until the next one starts is stopped by it; with `ringSec` it sounds on beneath.
 */
export function perform(plan: readonly PlannedNote[], bank: Bank, options: PerformOptions): Performance {
  const { sampleRate, durationSec, tuningCents = 0, random } = options;
  const signal = new Float32Array(Math.round(durationSec * sampleRate));
  const truth: TrueNote[] = [];
  const inOrder = [...plan].sort((a, b) => a.onsetSec - b.onsetSec);
  inOrder.forEach((note, index) => {
    const sounding = note.midi + tuningCents / 100;
    const following = inOrder.slice(index + 1).find((later) => !later.ghost);
    const sustained = note.durationSec + (note.ringSec ?? 0);
    const seconds = sustained + PAST_ATTACK_SEC + DAMP_SEC[1] + (following?.slurSec ?? 0);
    const { pcm, attack } = makeVoice(
      note,
      chooseRecording(bank, sounding, random),
      sounding,
      seconds,
      sampleRate,
    );
    const onset = Math.round(note.onsetSec * sampleRate);
    const slur = note.slurSec === undefined ? 0 : Math.round(note.slurSec * sampleRate);
    // `origin`: the index of pcm that falls on the onset.
    const origin = slur ? attack + Math.round(PAST_ATTACK_SEC * sampleRate) : attack;
    const level = rms(pcm, origin, origin + Math.round(LEVELLED_OVER_SEC * sampleRate));
    let gain = (STROKE_RMS * 10 ** (note.levelDb / 20)) / Math.max(1e-6, level);
    if (slur) {
      // The last 40 ms before the change of note begins.
      const change = onset - (slur >> 1);
      const before = rms(signal, change - Math.round(0.04 * sampleRate), change);
      const after = rms(pcm, origin, origin + Math.round(0.04 * sampleRate));
      if (!note.ghost) gain = Math.max(before, LEAST_SLUR_RMS) / Math.max(1e-6, after);
      const from = origin - (slur >> 1);
      for (let i = 0; i < from + slur && i < pcm.length; i++) pcm[i]! *= i < from ? 0 : (i - from) / slur;
    }
    if (note.touched) {
      const { afterSec, dropDb, overSec } = note.touched;
      const over = overSec * sampleRate;
      const from = origin + Math.round(afterSec * sampleRate);
      for (let i = from; i < pcm.length; i++)
        pcm[i]! *= 10 ** ((-dropDb * Math.min(1, (i - from) / over)) / 20);
    }
    const end = origin + Math.round(sustained * sampleRate);
    const taken =
      following && !note.ghost && !note.ringSec && following.onsetSec - note.onsetSec - sustained < 0.001;
    if (taken && following.slurSec) {
      const length = Math.round(following.slurSec * sampleRate);
      fadeOut(pcm, end + (length >> 1), length);
    } else if (taken) fadeOut(pcm, end, Math.round(STOP_SEC * sampleRate));
    else damp(pcm, end, random.between(...DAMP_SEC), sampleRate);
    const shift = onset - origin;
    for (let i = Math.max(0, -shift); i < pcm.length && i + shift < signal.length; i++)
      signal[i + shift]! += gain * pcm[i]!;
    if (!note.ghost)
      truth.push({
        onsetSec: onset / sampleRate,
        offsetSec: onset / sampleRate + note.durationSec,
        midi: note.midi,
        levelDb: note.levelDb,
        how: slur ? 'slur' : 'pluck',
      });
  });
  return { signal, truth };
}
