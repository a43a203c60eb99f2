import { kWeighted } from './kWeighting.ts';

/** BS.1770-5: gating blocks of 400 ms that overlap by 75 %. */
const BLOCK_SEC = 0.4;
const HOP_SEC = 0.1;
/** BS.1770-5: loudness of a block = −0.691 + 10 log10 of its weighted mean square. */
const OFFSET_DB = -0.691;
/** BS.1770-5: blocks under −70 LKFS never count; then those 10 LU under the mean of the rest are dropped. */
const ABSOLUTE_GATE = -70;
const RELATIVE_GATE_LU = -10;

const toLufs = (meanSquare: number): number => OFFSET_DB + 10 * Math.log10(meanSquare);

/**
 * Mean squares of the K-weighted gating blocks of a mono signal, in order; empty when it is shorter than one
 * block (400 ms).
 */
export function gatingBlocks(samples: Float32Array, sampleRate: number): number[] {
  const weighted = kWeighted(samples, sampleRate);
  const hop = Math.round(HOP_SEC * sampleRate);
  const perBlock = Math.round(BLOCK_SEC / HOP_SEC);
  const hops: number[] = [];
  for (let start = 0; start + hop <= weighted.length; start += hop) {
    let sum = 0;
    for (let i = start; i < start + hop; i++) sum += weighted[i]! ** 2;
    hops.push(sum / hop);
  }
  const blocks: number[] = [];
  for (let i = 0; i + perBlock <= hops.length; i++)
    blocks.push(hops.slice(i, i + perBlock).reduce((a, b) => a + b) / perBlock);
  return blocks;
}

/**
 * Integrated (gated) loudness in LUFS of {@link gatingBlocks}, which may come from several signals that count
 * as one programme. Null when nothing passes the gate. Source: ITU-R BS.1770-5, annex 1, equations 3–7.
 */
export function integratedLoudness(blocks: readonly number[]): number | null {
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const audible = blocks.filter((block) => toLufs(block) > ABSOLUTE_GATE);
  if (audible.length === 0) return null;
  const gate = toLufs(mean(audible)) + RELATIVE_GATE_LU;
  return toLufs(mean(audible.filter((block) => toLufs(block) > gate)));
}

/** Ungated K-weighted level in LUFS of the first 400 ms (padded with silence): how loud a one-shot is. */
export function momentaryLoudness(samples: Float32Array, sampleRate: number): number | null {
  const length = Math.round(BLOCK_SEC * sampleRate);
  const padded = new Float32Array(length);
  padded.set(samples.subarray(0, length));
  const energy = kWeighted(padded, sampleRate).reduce((sum, value) => sum + value * value, 0) / length;
  return energy > 0 ? toLufs(energy) : null;
}
