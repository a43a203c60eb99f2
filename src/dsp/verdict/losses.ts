/** A place at which samples are missing: `length` zeros from index `at` on. */
export interface Loss {
  readonly at: number;
  readonly length: number;
}

/**
 * Zeros are a lost block if there are so many; fewer are a quiet converter's. And no more: that is silence, s, unless the
 * recorder has counted the samples that never came.
 */
const LEAST_ZEROS_SEC = 0.0007;
const MOST_ZEROS_SEC = 0.02;
/** Where more are missing than this a note may have come and gone, s: nothing is put in their place. */
const MOST_COUNTED_SEC = 0.12;
/** In so many zeros on end a loss may lie, in fewer none. */
export const leastZeros = (sampleRate: number): number => Math.round(LEAST_ZEROS_SEC * sampleRate);
/** What surrounds lost zeros sounds: RMS over 3 ms on either side, as a share of the peak and of full scale. */
const AROUND_SEC = 0.003;
const SOUNDING = 0.01;
/** A 16-bit converter that hears next to nothing gives runs of zeros: −70 dBFS is ten of its steps. */
const LEAST_RMS = 3e-4;
/**
 * Blocks that were lost as zeros inside a sounding signal: what the recorder puts where samples never came, and what
 * sound servers give. Samples cut out without a trace are not looked for: a jump between two samples is also what
 * an effect that opens at once, a backing's drum or a converter gives. Finite samples.
 * @param counted where the recorder knows that samples never came
 */
export const findLosses = (
  signal: Float32Array,
  sampleRate: number,
  peak: number,
  counted: readonly Loss[] = [],
): Loss[] => (peak === 0 ? [] : zeroed(signal, sampleRate, peak, counted));

function zeroed(signal: Float32Array, sampleRate: number, peak: number, counted: readonly Loss[]): Loss[] {
  const least = leastZeros(sampleRate);
  const most = Math.round(MOST_ZEROS_SEC * sampleRate);
  const around = Math.round(AROUND_SEC * sampleRate);
  const sounds = (from: number): boolean => {
    if (from < 0 || from + around > signal.length) return false;
    let sum = 0;
    for (let i = from; i < from + around; i++) sum += signal[i]! ** 2;
    return Math.sqrt(sum / around) > Math.max(LEAST_RMS, SOUNDING * peak);
  };
  const isCounted = (at: number, length: number): boolean =>
    length <= MOST_COUNTED_SEC * sampleRate &&
    counted.some((gap) => gap.at <= at + least && gap.at + gap.length >= at + length - least);
  const out: Loss[] = [];
  let zeros = 0;
  for (let i = 0; i < signal.length; i++) {
    if (signal[i] === 0) {
      zeros++;
      continue;
    }
    const lost = zeros >= least && (zeros <= most || isCounted(i - zeros, zeros));
    if (lost && sounds(i - zeros - around) && sounds(i)) out.push({ at: i - zeros, length: zeros });
    zeros = 0;
  }
  return out;
}

/** What was heard so long before and after is compared, and looked for up to so far away, s: two periods of E1. */
const COMPARED_SEC = 0.012;
const FARTHEST_SEC = 0.05;

/**
 * The signal with each loss bridged by what the string does anyway: the wave before, whole periods on, faded into the
 * wave after, whole periods back (in the manner of waveform substitution, Goodman et al., IEEE TASSP 34, 1986). A pluck
 * that fell into it still begins there, as the wave after holds it; one that did not is not invented.
 */
export function bridged(signal: Float32Array, losses: readonly Loss[], sampleRate: number): Float32Array {
  if (losses.length === 0) return signal;
  const out = signal.slice();
  const size = (time: number): number => Math.round(time * sampleRate);
  for (const { at, length } of losses) {
    const span = Math.min(length, out.length - at);
    const on = likeness(out, at, -1, span, size(COMPARED_SEC), size(FARTHEST_SEC));
    const back = likeness(out, at + span, 1, span, size(COMPARED_SEC), size(FARTHEST_SEC));
    for (let i = 0; i < span; i++) {
      const w = 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / span);
      const before = on > 0 ? out[at + i - on]! : 0;
      const after = back > 0 ? out[at + i + back]! : 0;
      out[at + i] = (1 - w) * before + w * after;
    }
  }
  return out;
}

/**
 * How far from `at` towards `way` the wave that ends (way −1) or begins (way 1) there is found again most like itself;
 * at least `span`, so that what is read from there is known. 0 where there is too little to compare.
 */
function likeness(
  x: Float32Array,
  at: number,
  way: -1 | 1,
  span: number,
  compared: number,
  farthest: number,
): number {
  const from = way < 0 ? at - compared : at;
  let best = 0;
  let most = 0;
  for (let lag = span + 1; lag <= span + farthest; lag++) {
    const start = from + way * lag;
    if (from < 0 || from + compared > x.length || start < 0 || start + compared > x.length) break;
    let dot = 0;
    let energy = 1e-12;
    for (let i = 0; i < compared; i++) {
      dot += x[from + i]! * x[start + i]!;
      energy += x[start + i]! ** 2;
    }
    const alike = dot > 0 ? dot / Math.sqrt(energy) : 0;
    if (alike > most) {
      most = alike;
      best = lag;
    }
  }
  return best;
}
