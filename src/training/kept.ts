import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TakeRecipe } from '../../audio-fixtures/index.ts';
import type { TrueNote } from '../../audio-fixtures/index.ts';
import { measure } from '../dsp/hear/analysis.ts';
import type { Measured } from '../dsp/hear/analysis.ts';
import { toWorkRate } from '../dsp/hear/toWorkRate.ts';
import { cacheFolder, MEASURING } from './cacheFolder.ts';

/**
 * Takes and what is measured of them frame by frame, kept on disk so that a refit after a change of features
 * need not make and hear them again. A change of the fixtures or of what measures begins another folder; delete
 * the old ones. About 0.4 MB for a second of sound.
 */
const FOLDER = cacheFolder('takes', MEASURING);

export interface Kept {
  readonly measured: Measured;
  readonly truth: readonly TrueNote[];
}

interface Head {
  readonly truth: readonly TrueNote[];
  readonly gain: number;
  readonly frames: number;
  readonly parts: readonly (readonly [name: string, type: 'f32' | 'f64' | 'u8', length: number])[];
}

function write(path: string, { measured, truth }: Kept): void {
  const { take, flux, rise, pitch } = measured;
  const arrays: Record<string, Float32Array | Float64Array | Uint8Array> = {
    power: pitch.power,
    samples: take.samples,
    half: take.half,
    flux,
    mean: rise.mean,
    bands: rise.bands,
    raw: pitch.raw,
    gated: pitch.gated,
    best: pitch.best,
    sounding: take.sounding,
  };
  const parts = Object.entries(arrays).map(
    ([name, a]) =>
      [name, a instanceof Float32Array ? 'f32' : a instanceof Float64Array ? 'f64' : 'u8', a.length] as const,
  );
  const head: Head = { truth, gain: take.gain, frames: pitch.frames, parts };
  const text = Buffer.from(JSON.stringify(head));
  const lead = Buffer.alloc(8);
  lead.writeUInt32LE(text.length);
  const bytes = Object.values(arrays).map((a) => new Uint8Array(a.buffer, a.byteOffset, a.byteLength));
  const part = `${path}.${process.pid}`;
  writeFileSync(part, Buffer.concat([lead, text, ...bytes]));
  renameSync(part, path);
}

/** The running sums of `prepare`, which cost less to add up again than to keep. */
function sums(samples: Float32Array): { energy: Float64Array; edges: Float64Array } {
  const energy = new Float64Array(samples.length + 1);
  const edges = new Float64Array(samples.length + 1);
  let before = 0;
  for (let i = 0; i < samples.length; i++) {
    const now = samples[i]!;
    energy[i + 1] = energy[i]! + now * now;
    edges[i + 1] = edges[i]! + (now - before) ** 2;
    before = now;
  }
  return { energy, edges };
}

function read(path: string): Kept {
  const file = readFileSync(path);
  const length = file.readUInt32LE(0);
  const head = JSON.parse(file.toString('utf8', 8, 8 + length)) as Head;
  let at = file.byteOffset + 8 + length;
  const got: Record<string, Float32Array | Float64Array | Uint8Array> = {};
  for (const [name, type, count] of head.parts) {
    const size = type === 'f64' ? 8 : type === 'f32' ? 4 : 1;
    const bytes = file.buffer.slice(at, at + size * count) as ArrayBuffer;
    got[name] =
      type === 'f64'
        ? new Float64Array(bytes)
        : type === 'f32'
          ? new Float32Array(bytes)
          : new Uint8Array(bytes);
    at += size * count;
  }
  const f32 = (name: string): Float32Array => got[name] as Float32Array;
  const f64 = (name: string): Float64Array => got[name] as Float64Array;
  return {
    truth: head.truth,
    measured: {
      take: {
        samples: f32('samples'),
        gain: head.gain,
        ...sums(f32('samples')),
        half: f32('half'),
        sounding: got.sounding as Uint8Array,
      },
      flux: f32('flux'),
      rise: { mean: f32('mean'), bands: f32('bands') },
      pitch: {
        frames: head.frames,
        raw: f32('raw'),
        gated: f32('gated'),
        best: f32('best'),
        power: f64('power'),
      },
    },
  };
}

/** A take and its measurements, made at first use. */
export function kept(recipe: TakeRecipe): Kept {
  const path = join(FOLDER, recipe.id);
  if (existsSync(path)) return read(path);
  const take = recipe.make();
  const made = { measured: measure(toWorkRate(take.signal, take.sampleRate)), truth: take.truth };
  mkdirSync(FOLDER, { recursive: true });
  write(path, made);
  return made;
}
