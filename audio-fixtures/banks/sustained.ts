/** Recordings end in a loop meant to be sustained: it is repeated up to this length … */
const LONGEST_SEC = 5;
/** … and falls at this rate, as a string does. */
const LOOP_FALLS_DB_PER_SEC = 7;
/** A shorter loop is the mark of a recording that is not meant to be sustained. */
const LEAST_LOOP = 32;

/** A recording with its loop (sample indices `from`…`to`) repeated, falling, up to 5 s. */
export function sustained(pcm: Float32Array, from: number, to: number, sampleRate: number): Float32Array {
  if (to - from < LEAST_LOOP) return pcm;
  const out = new Float32Array(Math.max(Math.round(LONGEST_SEC * sampleRate), to));
  out.set(pcm.subarray(0, to));
  const step = 10 ** (-LOOP_FALLS_DB_PER_SEC / 20 / sampleRate);
  let gain = 1;
  for (let i = to; i < out.length; i++) out[i] = (gain *= step) * pcm[from + ((i - to) % (to - from))]!;
  return out;
}
