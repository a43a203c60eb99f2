import { readFileSync } from 'node:fs';

/** One recording of a Gravis Ultrasound patch, 16-bit signed. */
export interface PatchSample {
  readonly sampleRate: number;
  /** Mono, ±1. */
  readonly pcm: Float32Array;
  /** Sample indices. */
  readonly loopStart: number;
  readonly loopEnd: number;
}

/** Bytes of the file's, the instrument's and the layer's header, and of each recording's. */
const FILE_BYTES = 129;
const INSTRUMENT_BYTES = 63;
const LAYER_BYTES = 47;
const SAMPLE_BYTES = 96;
/** Bits of a recording's `modes`. */
const SIXTEEN_BIT = 1;
const UNSIGNED = 2;

/** Recordings of a patch with one instrument and one layer. @throws RangeError for any other file */
export function readPatch(path: string): PatchSample[] {
  const file = readFileSync(path);
  if (file.toString('latin1', 0, 8) !== 'GF1PATCH') throw new RangeError(`${path} is no GF1 patch`);
  const layer = FILE_BYTES + INSTRUMENT_BYTES;
  const count = file[layer + 6]!;
  const out: PatchSample[] = [];
  let at = layer + LAYER_BYTES;
  for (let i = 0; i < count; i++) {
    const bytes = file.readUInt32LE(at + 8);
    const modes = file[at + 55]!;
    if ((modes & (SIXTEEN_BIT | UNSIGNED)) !== SIXTEEN_BIT)
      throw new RangeError(`${path}: recording ${i} is not 16-bit signed`);
    const data = at + SAMPLE_BYTES;
    out.push({
      sampleRate: file.readUInt16LE(at + 20),
      pcm: Float32Array.from({ length: bytes >> 1 }, (_, k) => file.readInt16LE(data + 2 * k) / 32768),
      loopStart: file.readUInt32LE(at + 12) >> 1,
      loopEnd: file.readUInt32LE(at + 16) >> 1,
    });
    at = data + bytes;
  }
  return out;
}
