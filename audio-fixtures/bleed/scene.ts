import { convolve } from '../../src/dsp/bleed/convolve.ts';
import { warp } from '../../src/dsp/bleed/warp.ts';
import type { Bank } from '../banks/types.ts';
import { addHiss } from '../effects/noise.ts';
import type { PlannedNote, TrueNote } from '../planned.ts';
import { perform } from '../player.ts';
import { makeRandom, type Random } from '../random.ts';
import { roomResponse, type Box } from './imageSource.ts';
import { makeSpeaker, throughSpeaker, type Speaker } from './speaker.ts';

/** What was sent to the loudspeaker, and what the student is to play: one test's sound on one time line. */
export interface Sent {
  readonly signal: Float32Array;
  readonly sampleRate: number;
  /** The take starts here: beat 1 of bar 1 of the performance. */
  readonly takeSec: number;
  /** Stretches in which the student might noodle: the hearing. */
  readonly hearingSec: readonly [number, number];
  readonly target: readonly {
    readonly onsetSec: number;
    readonly durationSec: number;
    readonly midi: number;
  }[];
}

export interface Conditions {
  /** Bleed over guitar, full-band RMS over the take, dB; null: headphones. */
  readonly bleedDb: number | null;
  readonly rt60: number;
  /** Microphone moved by so much between hearing and take, metres. */
  readonly movedM?: number;
  readonly driftPpm?: number;
  /** One glitch of so many frames between hearing and take. */
  readonly glitchFrames?: number;
  readonly noodling?: boolean;
  /** Nobody plays. */
  readonly silent?: boolean;
}

export interface Scene {
  readonly recording: Float32Array;
  readonly reference: Float32Array;
  readonly sampleRate: number;
  /** The take starts in the recording about here (reference time; the delay comes on top). */
  readonly fromSec: number;
  /** The guitar's attacks in recording time. */
  readonly truth: readonly TrueNote[];
  /** Loudspeaker to microphone at the take's start, machine and air, seconds. */
  readonly delaySec: number;
  readonly driftPpm: number;
}

const SOUND = 343;
/** A practising guitarist's room, loudspeaker and microphone on a table or stand. */
function makeBox(random: Random, rt60: number): Box {
  const size = [random.between(3, 5), random.between(2.6, 4), random.between(2.3, 2.7)] as const;
  const source = [random.between(0.5, 1.2), random.between(0.6, 1.6), random.between(0.7, 1.2)] as const;
  const away = random.between(0.5, 1.3);
  const angle = random.between(-0.7, 0.7);
  const microphone = [
    source[0] + away * Math.cos(angle),
    Math.min(size[1] - 0.3, Math.max(0.3, source[1] + away * Math.sin(angle))),
    random.between(0.7, 1.2),
  ] as const;
  return { size, source, microphone, rt60 };
}

function moved(box: Box, by: number, random: Random): Box {
  const azimuth = random.between(0, 2 * Math.PI);
  const [x, y, z] = box.microphone;
  return {
    ...box,
    microphone: [
      x + by * Math.cos(azimuth),
      y + by * Math.sin(azimuth) * 0.8,
      z + by * 0.6 * Math.sin(azimuth),
    ],
  };
}

const distance = (box: Box): number => Math.hypot(...box.source.map((s, i) => s - box.microphone[i]!));

/** Uneven by 15 ms with a bias of its own, 65–115 of 127 loud, one note in eight another than asked. */
function played(sent: Sent, shiftSec: number, random: Random): PlannedNote[] {
  const bias = 0.01 * random.normal();
  const { target } = sent;
  let last = -1;
  return target.map((note, i) => {
    const onset = Math.max(
      sent.takeSec + shiftSec + note.onsetSec + bias + 0.015 * random.normal(),
      last + 0.03,
    );
    last = onset;
    const wrong = random.chance(0.12) ? random.pick([-2, -1, 1, 2, 3]) : 0;
    const next = target[i + 1]?.onsetSec ?? note.onsetSec + note.durationSec;
    return {
      onsetSec: onset,
      durationSec: Math.min(note.durationSec, next - note.onsetSec),
      midi: note.midi + wrong,
      levelDb: 20 * Math.log10(random.between(65, 115) / 90),
    };
  });
}

function noodle(sent: Sent, random: Random): PlannedNote[] {
  const notes: PlannedNote[] = [];
  const pitches = sent.target.map((n) => n.midi);
  let at = sent.hearingSec[0] + random.between(0.5, 2);
  while (at < sent.hearingSec[1] - 0.6) {
    const length = random.between(0.15, 0.6);
    notes.push({
      onsetSec: at,
      durationSec: length,
      midi: random.pick(pitches),
      levelDb: random.between(-12, 0),
    });
    at += length + (random.chance(0.2) ? random.between(0.2, 1) : 0);
  }
  return notes;
}

/** All that the bleed of a scene depends on. */
interface Bleeding {
  readonly seed: number;
  readonly speaker: Speaker;
  readonly first: Box;
  readonly later: Box;
  /** How much later than sent sample n arrives, samples. */
  readonly lag: (n: number) => number;
  /** From this sample on the microphone stands at its later place. */
  readonly change: number;
  readonly bulk: number;
  readonly drift: number;
  readonly glitch: number;
}

let latest: { sent: Sent; key: string; bleed: Float32Array } | null = null;

/** The backing at the microphone; the last one is kept, since several conditions in a row share it. */
function bleedOf(sent: Sent, how: Bleeding): Float32Array {
  const { seed, speaker, first, later, lag, change, ...clock } = how;
  const key = JSON.stringify([seed, speaker, first, later, change, clock]);
  if (latest?.sent === sent && latest.key === key) return latest.bleed;
  const rate = sent.sampleRate;
  const arriving = warp(throughSpeaker(sent.signal, speaker, rate), sent.signal.length, (n) => n - lag(n));
  const before = convolve(arriving.subarray(0, change + rate), roomResponse(first, rate));
  const after = convolve(arriving, roomResponse(later, rate));
  const bleed = Float32Array.from(after, (v, n) => (n < change ? before[n]! : v));
  latest = { sent, key, bleed };
  return bleed;
}

const rms = (x: Float32Array, from: number, to: number): number => {
  let sum = 0;
  for (let n = from; n < to; n++) sum += x[n]! ** 2;
  return Math.sqrt(sum / Math.max(1, to - from));
};

/**
 * One recording of a student who practises over loudspeakers, with everything known about it.
 * Microphone noise −40 dB under the guitar, machine delay 20–250 ms, clocks ±20 ppm apart unless told
 * otherwise, the microphone moved 2 cm between hearing and take.
 */
export function makeScene(sent: Sent, bank: Bank, seed: number, conditions: Conditions): Scene {
  const random = makeRandom(seed);
  const rate = sent.sampleRate;
  const box = makeBox(random, conditions.rt60);
  const later = moved(box, conditions.movedM ?? 0.02, random);
  const bulk = random.between(0.02, 0.25);
  const drift = conditions.driftPpm ?? random.between(-20, 20);
  const speaker = makeSpeaker(random);
  const takeAt = Math.round(sent.takeSec * rate);
  const glitch = conditions.glitchFrames ?? 0;
  // Everything that changes does so in the practice window, half a bar before the performance.
  const change = Math.round((sent.hearingSec[1] + 0.5) * rate);

  const lag = (n: number): number => bulk * rate + drift * 1e-6 * n + (n >= change ? glitch : 0);
  const options = { sampleRate: rate, durationSec: sent.signal.length / rate, random };
  const take = perform(conditions.silent ? [] : played(sent, lag(takeAt) / rate, random), bank, options);
  const dry = take.signal;
  const end = Math.min(
    dry.length,
    Math.round((sent.takeSec + sent.target[sent.target.length - 1]!.onsetSec + 1) * rate),
  );
  const guitarRms = conditions.silent ? 10 ** (-24 / 20) : rms(dry, takeAt, end);
  const recording = dry.slice();
  if (conditions.noodling) {
    const idle = perform(noodle(sent, random), bank, options).signal;
    for (let n = 0; n < recording.length; n++) recording[n]! += idle[n]!;
  }
  addHiss(recording, 20 * Math.log10(guitarRms) - 40, rate, random);
  if (conditions.bleedDb !== null) {
    const bleed = bleedOf(sent, { seed, speaker, first: box, later, lag, change, bulk, drift, glitch });
    const gain = (guitarRms * 10 ** (conditions.bleedDb / 20)) / Math.max(1e-9, rms(bleed, takeAt, end));
    for (let n = 0; n < recording.length; n++) recording[n]! += gain * bleed[n]!;
  }
  return {
    recording,
    reference: sent.signal,
    sampleRate: rate,
    fromSec: sent.takeSec,
    truth: take.truth,
    delaySec: lag(takeAt) / rate + distance(later) / SOUND,
    driftPpm: drift,
  };
}
