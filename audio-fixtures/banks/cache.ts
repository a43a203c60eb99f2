import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { attackIndex } from '../attack.ts';
import { measuredMidi } from './pitch.ts';
import type { RecordedNote } from './types.ts';

/** Git-ignored. The version changes with anything below that changes what is stored. */
const CACHE = resolve(import.meta.dirname, '../../.cache/audio-fixtures/v1');
/** Kept before the attack: the pick's touch, not the editor's silence. */
const LEAD_SEC = 0.015;
/** Kept after the attack: no fixture holds a note longer. */
const KEEP_SEC = 6;

function floats(path: string): Float32Array {
  const bytes = readFileSync(path);
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
}

/** Tests run in several processes: a file appears whole or not at all. */
function put(path: string, content: Uint8Array | string): void {
  const part = `${path}.${process.pid}`;
  writeFileSync(part, content);
  renameSync(part, path);
}

export interface Recording {
  readonly bank: string;
  readonly name: string;
  readonly sampleRate: number;
  /** The semitone its name says; null where names can't be relied on. */
  readonly written: number | null;
  /** The whole recording, mono at `sampleRate`. */
  readonly decode: () => Promise<Float32Array> | Float32Array;
}

/** A recorded note out of the cache, or trimmed, measured and put there. */
export async function cachedNote(recording: Recording): Promise<RecordedNote> {
  const { bank, name, sampleRate, written, decode } = recording;
  const base = join(CACHE, bank, name);
  if (!existsSync(`${base}.json`)) {
    const whole = await decode();
    const attack = attackIndex(whole, sampleRate);
    const from = Math.max(0, attack - Math.round(LEAD_SEC * sampleRate));
    const pcm = whole.slice(from, attack + Math.round(KEEP_SEC * sampleRate));
    const midi = measuredMidi(pcm, sampleRate, attack - from, written);
    mkdirSync(dirname(base), { recursive: true });
    put(`${base}.f32`, new Uint8Array(pcm.buffer));
    put(`${base}.json`, JSON.stringify({ midi })); // last: where it is, the recording is whole
  }
  const { midi } = JSON.parse(readFileSync(`${base}.json`, 'utf8')) as { midi: number };
  let pcm: Float32Array | null = null;
  return {
    bank,
    name,
    midi,
    sampleRate,
    get pcm() {
      return (pcm ??= floats(`${base}.f32`));
    },
  };
}
