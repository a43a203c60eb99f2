import { upperMedian } from '../../music/numbers.ts';
import { hann } from '../spectrum/hann.ts';
import { floats } from '../signal/workspace.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import { BLEED_RATE } from './align.ts';

/** 43 ms at 24 kHz: separates a guitar's partials from E2 on. */
export const FRAME = 1024;
/** 5.3 ms. */
export const FRAME_HOP = 128;
export const BINS = FRAME / 2 + 1;

/** Power spectra, one row of {@link BINS} a frame; frame k is centred on sample k · {@link FRAME_HOP}. */
export interface Powers {
  readonly frames: number;
  readonly power: Float32Array;
}

/** What of the backing is expected to be left in each frame and bin, beside what is there. */
export interface Expected {
  readonly left: Powers;
  /** Expected power of the leftovers, same layout. */
  readonly leftover: Powers;
  /** What of the bleed is left, bin by bin, as learnt: a share of its power. */
  readonly share: Float64Array;
}

/** A frame of a signal, silent before and after, under its window. */
export function windowed(
  into: { [i: number]: number },
  signal: Float64Array,
  from: number,
  window: ArrayLike<number>,
): void {
  for (let i = 0; i < FRAME; i++) {
    const at = from + i;
    into[i] = at >= 0 && at < signal.length ? signal[at]! * window[i]! : 0;
  }
}

export function powers(signal: Float64Array): Powers {
  const fft = createRealFft(FRAME);
  const window = hann(FRAME);
  const frames = Math.floor(signal.length / FRAME_HOP) + 1;
  const power = floats(frames * BINS);
  const row = new Float64Array(BINS);
  for (let k = 0; k < frames; k++) {
    const from = k * FRAME_HOP - FRAME / 2;
    windowed(fft.input, signal, from, window);
    fft.powers(row, BINS);
    power.set(row, k * BINS);
  }
  return { frames, power };
}

/** Reverberation that the learnt room does not reach decays like a living room's, 60 dB in 0.4 s. */
const LATE_RT60_SEC = 0.4;
/** The quarter quantile: with notes sounding three quarters of the time it still sees the leftovers. */
const QUANTILE = 0.25;
/** That quantile of a power that is exponentially distributed around 1: −ln 0.75. */
const QUANTILE_OF_NOISE = 0.288;
const SMOOTH_BINS = 7;
/**
 * Where one string sounds throughout (a rhythm, a bass), its bins' quantile is the string itself, and it would be
 * masked away: −8 dB were expected of leftovers at −35 dB. So no bin is expected to leave more than the middle one
 * (6 kHz, above what sustains), nor more than a microphone moved by 3 cm would (|1 − exp(jkd)|² ≈ (kd)²; what moved
 * further is learnt anew on the take), nor that to be less than −14 dB.
 */
const MOVED_M = 0.03;
const SOUND_M_PER_SEC = 343;
const LEAST_BOUND = 0.04;
const bound = (bin: number): number =>
  Math.max(LEAST_BOUND, ((2 * Math.PI * bin * BLEED_RATE * MOVED_M) / FRAME / SOUND_M_PER_SEC) ** 2);

/**
 * Expected leftovers R(t, f) = g(f) · (P + late), P being the power of the bleed that was taken out.
 * g is learnt on the take itself: playing along in the hearing would spoil it.
 * @param learnt g, where it is known from another stretch of the take
 */
export function expectLeftovers(
  left: Float64Array,
  bleed: Float64Array,
  learnt: Float64Array | null = null,
): Expected {
  const e = powers(left);
  const p = powers(bleed);
  const loudness = learnt ? null : loudnessOf(p);
  const source = withLate(p);
  const share = learnt ?? learnShare(e, source, loudness!);
  const { frames, power } = source;
  for (let k = 0; k < frames; k++) for (let b = 0; b < BINS; b++) power[k * BINS + b]! *= share[b]!;
  return { left: e, leftover: source, share };
}

function learnShare(left: Powers, source: Powers, loudness: Float64Array): Float64Array {
  const half = upperMedian(loudness);
  const gain = gainOf(left, source, (frame) => loudness[frame]! > half);
  const most = upperMedian(gain);
  return medianFilter(gain, SMOOTH_BINS).map((g, b) => Math.min(g, most, bound(b)));
}

function loudnessOf({ frames, power }: Powers): Float64Array {
  const loudness = new Float64Array(frames);
  for (let k = 0; k < frames; k++) for (let b = 0; b < BINS; b++) loudness[k]! += power[k * BINS + b]!;
  return loudness;
}

/** The bleed with its late reverberation, in place: of a piece of minutes it is a hundred megabytes. */
function withLate({ frames, power }: Powers): Powers {
  const keep = 10 ** ((-6 * FRAME_HOP) / BLEED_RATE / LATE_RT60_SEC);
  const late = new Float64Array(BINS);
  for (let k = 0; k < frames; k++)
    for (let b = 0; b < BINS; b++) {
      const now = power[k * BINS + b]!;
      power[k * BINS + b] = now + late[b]!;
      late[b] = keep * late[b]! + (1 - keep) * now;
    }
  return { frames, power };
}

/** Bins whose ratios are gathered in one walk over the frames. */
const TOGETHER = 16;

/** g(f): the quarter quantile of what is left over what was sent, in the frames counted. */
function gainOf(left: Powers, source: Powers, counts: (frame: number) => boolean): Float64Array {
  const gain = new Float64Array(BINS);
  const counted: number[] = [];
  for (let k = 0; k < source.frames; k++) if (counts(k)) counted.push(k);
  const ratios = Array.from({ length: TOGETHER }, () => new Float64Array(counted.length));
  const held = new Int32Array(TOGETHER);
  for (let first = 0; first < BINS; first += TOGETHER) {
    const bins = Math.min(TOGETHER, BINS - first);
    held.fill(0);
    for (const k of counted)
      for (let i = 0; i < bins; i++) {
        const at = k * BINS + first + i;
        const sent = source.power[at]!;
        if (sent > 0) ratios[i]![held[i]!++] = left.power[at]! / sent;
      }
    for (let i = 0; i < bins; i++) {
      const sorted = ratios[i]!.subarray(0, held[i]!).sort();
      gain[first + i] = (sorted[Math.floor(QUANTILE * sorted.length)] ?? 0) / QUANTILE_OF_NOISE;
    }
  }
  return gain;
}

function medianFilter(values: Float64Array, width: number): Float64Array {
  const reach = width >> 1;
  return values.map((_, i) => upperMedian(values.slice(Math.max(0, i - reach), i + reach + 1)));
}
