import { HOP } from '../signal/prepared.ts';
import { floats } from '../signal/workspace.ts';
import { createSimd, type Simd } from '../simd/instance.ts';
import {
  BLOCK_DITHER,
  framesIn,
  LAG_EDGES,
  LAGS,
  LONG,
  PITCHES,
  SHORT,
  SHORT_FROM,
  SHORT_LAGS,
  TILT,
} from './pitchGrid.ts';
import type { PitchRows } from './pitchGrid.ts';

/** Blocks that are handed to the module at once: its memory is that large, and no larger, however long the take. */
const CHUNK = 64;
/** Lags kept of each block. */
const ROW = 16 * Math.ceil(LAGS / 16);
/** Before a chunk, whose frames begin there; and after it, for the longest lag. */
const BEFORE = (LONG - 1) * HOP;
const SAMPLES = BEFORE + CHUNK * HOP + ROW;
/** The sample before those that are tilted stands at the end of so many. */
const PAST = 4;

type Place =
  | 'half'
  | 'samples'
  | 'energy'
  | 'ring'
  | 'longSums'
  | 'shortSums'
  | 'difference'
  | 'edges'
  | 'inner'
  | 'pitchOf'
  | 'longBest'
  | 'shortBest'
  | 'out'
  | 'tops';
/** One for all takes: what stays in it is cleared by every call. */
let machine: Simd<Place> | null | undefined;
function makeMachine(): typeof machine {
  const made = createSimd({
    half: PAST + CHUNK * HOP + ROW,
    samples: SAMPLES,
    energy: 2 * (SAMPLES + 1),
    ring: (LONG + 1) * ROW,
    longSums: 2 * ROW,
    shortSums: 2 * ROW,
    difference: 2 * ROW,
    edges: 2 * LAG_EDGES.length,
    inner: 2 * PITCHES,
    pitchOf: LAGS,
    longBest: 2 * PITCHES,
    shortBest: 2 * PITCHES,
    out: CHUNK * PITCHES,
    tops: CHUNK,
  });
  if (!made) return null;
  made.doubles.edges.set(LAG_EDGES);
  const { inner, pitchOf } = made.whole;
  for (let n = 0; n < PITCHES; n++) {
    const [from, to] = [LAG_EDGES[n + 1]!, LAG_EDGES[n]!];
    inner.set([Math.ceil(from), Math.floor(to) + 1], 2 * n);
    for (let lag = Math.floor(from); lag <= Math.ceil(to); lag++) pitchOf[lag] = n;
  }
  return made;
}

/** As `pitchFrames` says, by `simd/kernels`: products in 32-bit sums; null where that cannot be run. */
export function simdPitchRows(half: Float32Array): PitchRows | null {
  machine = machine === undefined ? makeMachine() : machine;
  if (!machine) return null;
  const { run, at, floats: single, doubles } = machine;
  const frames = framesIn(half.length);
  const raw = floats(frames * PITCHES);
  const best = new Float32Array(frames);
  const power = new Float64Array(frames);
  const { samples } = single;
  const { energy, longSums, shortSums } = doubles;
  for (const cleared of [samples, energy, longSums, shortSums]) cleared.fill(0);

  /** How many samples of `half` are tilted, and where the next one goes. */
  let tilted = 0;
  let place = BEFORE;
  function tiltMore(count: number): void {
    const real = Math.max(0, Math.min(count, half.length - tilted));
    single.half[PAST - 1] = tilted > 0 ? (half[tilted - 1] ?? 0) : 0;
    single.half.set(half.subarray(tilted, tilted + real), PAST);
    run.tilt(at.half + 4 * PAST, count, real, TILT, at.samples + 4 * place, at.energy + 8 * place);
    tilted += count;
    place += count;
  }

  const blocks = frames + LONG - 1;
  for (let first = 0; frames > 0 && first < blocks; first += CHUNK) {
    if (first === 0) tiltMore(CHUNK * HOP + ROW);
    else {
      const moved = CHUNK * HOP;
      samples.copyWithin(0, moved);
      energy.copyWithin(0, moved);
      place -= moved;
      tiltMore(moved);
    }
    const count = Math.min(CHUNK, blocks - first);
    run.pitchRows(
      at.samples + 4 * BEFORE,
      at.energy,
      HOP,
      first,
      count,
      LONG,
      SHORT,
      ROW,
      LAGS,
      SHORT_LAGS,
      at.ring,
      at.longSums,
      at.shortSums,
      at.difference,
      at.edges,
      at.inner,
      at.pitchOf,
      PITCHES,
      SHORT_FROM,
      at.longBest,
      at.shortBest,
      BLOCK_DITHER,
      at.out,
      at.tops,
    );
    // Before the first whole frame there is none.
    const skipped = Math.max(0, LONG - 1 - first);
    const from = first + skipped - LONG + 1;
    raw.set(single.out.subarray(skipped * PITCHES, count * PITCHES), from * PITCHES);
    best.set(single.tops.subarray(skipped, count), from);
    for (let k = skipped; k < count; k++)
      power[from + k - skipped] = (energy[(k + LONG) * HOP]! - energy[k * HOP]!) / (LONG * HOP);
  }
  return { raw, best, power };
}
