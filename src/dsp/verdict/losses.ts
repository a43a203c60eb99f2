/** A place at which samples are missing: `length` zeros from index `at` on, or 0 where they were cut out before `at`. */
export interface Loss {
  readonly at: number;
  readonly length: number;
}

/** Zeros are a lost block if there are so many; fewer are a quiet converter's. And no more: that is silence, s. */
const LEAST_ZEROS_SEC = 0.0007;
const MOST_ZEROS_SEC = 0.02;
/** What surrounds lost zeros sounds: RMS over 3 ms on either side, as a share of the peak and of full scale. */
const AROUND_SEC = 0.003;
const SOUNDING = 0.01;
/** A 16-bit converter that hears next to nothing gives runs of zeros: −70 dBFS is ten of its steps. */
const LEAST_RMS = 3e-4;
/**
 * A cut is told by the fifth difference: a jump between two samples, alone within 25 ms (an E1's period) and over
 * anything there by this factor. What went through a converter's filter takes longer to begin: of 1083 takes without
 * losses 25 have such a place, most of them of effects that open at once.
 */
const ALONE_SEC = 0.025;
const ALONE_BY = 4;
/** Energy over so long before and after it changes by less than this factor (6 dB); a period of E1 is 24 ms. */
const LIKE_SEC = 0.03;
const MOST_CHANGE = 4;
/** Jumps under this share of the peak are not heard as anything. */
const LEAST_JUMP = 0.005;

/** Blocks that were lost as zeros inside a sounding signal, and places where samples were cut out of it. Finite samples. */
export function findLosses(signal: Float32Array, sampleRate: number, peak: number): Loss[] {
  if (peak === 0) return [];
  const zeros = zeroed(signal, sampleRate, peak);
  const edge = AROUND_SEC * sampleRate;
  const apart = cuts(signal, sampleRate, peak).filter(({ at }) =>
    zeros.every((zero) => at < zero.at - edge || at > zero.at + zero.length + edge),
  );
  return [...zeros, ...apart].sort((a, b) => a.at - b.at);
}

function zeroed(signal: Float32Array, sampleRate: number, peak: number): Loss[] {
  const least = Math.round(LEAST_ZEROS_SEC * sampleRate);
  const most = Math.round(MOST_ZEROS_SEC * sampleRate);
  const around = Math.round(AROUND_SEC * sampleRate);
  const sounds = (from: number): boolean => {
    if (from < 0 || from + around > signal.length) return false;
    let sum = 0;
    for (let i = from; i < from + around; i++) sum += signal[i]! ** 2;
    return Math.sqrt(sum / around) > Math.max(LEAST_RMS, SOUNDING * peak);
  };
  const out: Loss[] = [];
  let zeros = 0;
  for (let i = 0; i < signal.length; i++) {
    if (signal[i] === 0) {
      zeros++;
      continue;
    }
    if (zeros >= least && zeros <= most && sounds(i - zeros - around) && sounds(i))
      out.push({ at: i - zeros, length: zeros });
    zeros = 0;
  }
  return out;
}

/** Samples that a fifth difference reaches back. */
const REACH = 5;
/** Fifth difference that ends at `i`, over six, a lone jump's own: of 5 kHz it leaves 3 %, of what is lower next to nothing. */
const bend = (x: Float32Array, i: number): number =>
  Math.abs(x[i]! - x[i - 5]! - 5 * (x[i - 1]! - x[i - 4]!) + 10 * (x[i - 2]! - x[i - 3]!)) / 6;

function cuts(signal: Float32Array, sampleRate: number, peak: number): Loss[] {
  const block = Math.max(8, Math.round(0.001 * sampleRate));
  const count = Math.floor(signal.length / block);
  const tops = new Float64Array(count);
  for (let b = 0; b < count; b++) {
    let top = 0;
    for (let i = Math.max(REACH, b * block); i < (b + 1) * block; i++) top = Math.max(top, bend(signal, i));
    tops[b] = top;
  }
  const reach = Math.round((ALONE_SEC * sampleRate) / block);
  const out: Loss[] = [];
  for (let b = reach; b + reach < count; b++) {
    const top = tops[b]!;
    if (top < LEAST_JUMP * peak || top < tops[b - 1]! || top <= tops[b + 1]!) continue;
    let other = 0;
    for (let k = b - reach; k <= b + reach && other * ALONE_BY <= top; k++)
      if (Math.abs(k - b) > 1) other = Math.max(other, tops[k]!);
    if (other * ALONE_BY > top) continue;
    const at = jumpIn(signal, b * block - REACH, (b + 1) * block + REACH, top);
    if (at !== null && goesOn(signal, at, Math.round(LIKE_SEC * sampleRate))) out.push({ at, length: 0 });
  }
  return out;
}

/** As loud after as before: a recorded attack, too, may begin with a jump. */
function goesOn(signal: Float32Array, at: number, span: number): boolean {
  const energy = (from: number): number => {
    let sum = 0;
    for (let i = Math.max(0, from); i < Math.min(from + span, signal.length); i++) sum += signal[i]! ** 2;
    return sum;
  };
  const before = energy(at - span);
  const after = energy(at);
  return after < MOST_CHANGE * before && before < MOST_CHANGE * after;
}

/** Fifth differences of one jump are 1, 4, 6, 4 and 1 of its size and over: else it is something else. */
function jumpIn(signal: Float32Array, from: number, to: number, top: number): number | null {
  let first = -1;
  let last = -1;
  for (let i = Math.max(REACH, from); i < Math.min(to, signal.length); i++)
    if (bend(signal, i) > top / ALONE_BY) {
      if (first < 0) first = i;
      last = i;
    }
  // The two outermost of the five, a sixth of the largest, lie under the bound.
  return first >= 0 && last - first < REACH ? Math.round((first + last) / 2) - 2 : null;
}

/** What was heard so long before and after is compared, and looked for up to so far away, s: two periods of E1. */
const COMPARED_SEC = 0.012;
const FARTHEST_SEC = 0.05;
/** A cut is bridged over so long. */
const BRIDGE_SEC = 0.008;

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
    const span = Math.min(length || size(BRIDGE_SEC), out.length - at);
    const on = likeness(out, at, -1, span, size(COMPARED_SEC), size(FARTHEST_SEC));
    const back = length > 0 ? likeness(out, at + span, 1, span, size(COMPARED_SEC), size(FARTHEST_SEC)) : 0;
    for (let i = 0; i < span; i++) {
      const w = 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / span);
      const before = on > 0 ? out[at + i - on]! : 0;
      const after = length === 0 ? out[at + i]! : back > 0 ? out[at + i + back]! : 0;
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
