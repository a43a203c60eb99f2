import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { resample } from '../resample.ts';
import type { Random } from '../random.ts';

/** Real speech synthesis, where Debian's espeak-ng is installed; its samples are its version's own. */
export const speechInstalled = (): boolean =>
  spawnSync('espeak-ng', ['--version'], { stdio: 'ignore' }).status === 0;

const VOICES = ['en-us+m3', 'en-gb+f2', 'en+m7', 'en+f4'] as const;
const SENTENCES = [
  'Could you play that again from the second bar, a little slower this time?',
  'I think the string is out of tune. Wait a moment, let me check it.',
  'No, one more time please. Are we recording? Yes, it is running now.',
  'The kettle is on, dinner will be ready in ten minutes, are you coming?',
] as const;
/** Bytes of the header of the WAV files espeak-ng writes: RIFF, fmt of 16 bytes, data. */
const HEADER_BYTES = 44;

/** One sentence, mono at `sampleRate`. Throws where espeak-ng is not installed. */
export function spoken(sampleRate: number, random: Random): Float32Array {
  const folder = mkdtempSync(join(tmpdir(), 'twobar-speech-'));
  try {
    const path = join(folder, 'a.wav');
    const speed = String(random.whole(130, 190));
    const { status } = spawnSync('espeak-ng', [
      ...['-v', random.pick(VOICES), '-s', speed, '-w', path],
      random.pick(SENTENCES),
    ]);
    if (status !== 0) throw new Error('espeak-ng is not installed or does not speak');
    const bytes = readFileSync(path);
    const length = (bytes.length - HEADER_BYTES) >> 1;
    const pcm = Float32Array.from({ length }, (_, i) => bytes.readInt16LE(HEADER_BYTES + 2 * i) / 32768);
    return resample(pcm, bytes.readUInt32LE(24) / sampleRate);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
