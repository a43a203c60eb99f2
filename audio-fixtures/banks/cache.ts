import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { attackIndex } from '../attack.ts';
import { BANK_RATE } from './decode.ts';
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

/**
 * A recorded note out of the cache, or trimmed, measured and put there.
 *
 * @param written the semitone its name says, MIDI number
 * @param decode gives the whole recording, mono at {@link BANK_RATE}
 */
export async function cachedNote(
  bank: string,
  name: string,
  written: number,
  decode: () => Promise<Float32Array>,
): Promise<RecordedNote> {
  const base = join(CACHE, bank, name);
  if (!existsSync(`${base}.json`)) {
    const whole = await decode();
    const attack = attackIndex(whole, BANK_RATE);
    const from = Math.max(0, attack - Math.round(LEAD_SEC * BANK_RATE));
    const pcm = whole.slice(from, attack + Math.round(KEEP_SEC * BANK_RATE));
    const midi = measuredMidi(pcm, BANK_RATE, attack - from, written);
    mkdirSync(dirname(base), { recursive: true });
    writeFileSync(`${base}.f32`, new Uint8Array(pcm.buffer));
    writeFileSync(`${base}.json`, JSON.stringify({ midi }));
  }
  const { midi } = JSON.parse(readFileSync(`${base}.json`, 'utf8')) as { midi: number };
  let pcm: Float32Array | null = null;
  return {
    bank,
    name,
    midi,
    sampleRate: BANK_RATE,
    get pcm() {
      return (pcm ??= floats(`${base}.f32`));
    },
  };
}
