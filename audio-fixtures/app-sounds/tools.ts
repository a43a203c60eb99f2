import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Every sound is cut and stored at this rate: the packs' and the soundfont's own. */
export const RATE = 44_100;
const scratch = mkdtempSync(join(tmpdir(), 'twobar-sounds-'));
let serial = 0;
const scratchFile = (ending: string): string => join(scratch, `${serial++}.${ending}`);

/** Any audio file as mono float samples at {@link RATE}; `filter` is an ffmpeg audio filter or ''. */
export function decode(path: string, filter = ''): Float32Array {
  const args = ['-v', 'error', '-i', path, '-ac', '1', '-ar', String(RATE)];
  if (filter) args.push('-af', filter);
  const raw = execFileSync('ffmpeg', [...args, '-f', 'f32le', '-'], { maxBuffer: 1 << 28 });
  return new Float32Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.byteLength));
}

/** Writes samples as a mono mp3 of a constant bit rate (kbit/s). */
export function encodeMp3(samples: Float32Array, path: string, kbps: number): void {
  const raw = scratchFile('f32');
  writeFileSync(raw, new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength));
  const input = ['-f', 'f32le', '-ar', String(RATE), '-ac', '1', '-i', raw];
  const output = ['-c:a', 'libmp3lame', '-b:a', `${kbps}k`, '-map_metadata', '-1', '-bitexact', path];
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...input, ...output]);
}

/** A word by flite's voice rms and the instant (seconds into it) at which its first vowel begins. */
export function speak(word: string, stretch: number): { samples: Float32Array; vowelSec: number } {
  const wav = scratchFile('wav');
  const args = ['-voice', 'rms', '--setf', `duration_stretch=${stretch}`, '-psdur', '-t', word, '-o', wav];
  const phones = execFileSync('flite', args, { encoding: 'utf8' })
    .trim()
    .split(/\s+/)
    .map((entry) => ({ name: entry.split(':')[0]!, endSec: Number(entry.split(':')[1]) }));
  const vowel = phones.findIndex(({ name }) => /^[aeiou]/.test(name));
  return { samples: decode(wav), vowelSec: phones[vowel - 1]!.endSec };
}

const SOUNDFONT = '/usr/share/sounds/sf2/FluidR3_GM.sf2';

/** One note of the soundfont, held for `heldSec` and rung out, rendered dry (no reverb, no chorus). */
export function soundfontNote(note: {
  channel: number;
  program: number;
  key: number;
  velocity: number;
  heldSec: number;
}): Float32Array {
  // 480 ticks to the quarter at the format's default tempo of 120: 960 ticks a second.
  const delta = (ticks: number): number[] => {
    const bytes = [ticks & 0x7f];
    for (let rest = ticks >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80);
    return bytes;
  };
  const { channel, program, key, velocity, heldSec } = note;
  const events = [
    [0, 0xc0 | channel, program],
    ...[0, 0xb0 | channel, 91, 0, 0, 0xb0 | channel, 93, 0],
    ...[0, 0x90 | channel, key, velocity],
    ...[...delta(Math.round(heldSec * 960)), 0x80 | channel, key, 0],
    ...[...delta(960), 0xff, 0x2f, 0],
  ].flat();
  const uint32 = (n: number): number[] => [n >>> 24, (n >> 16) & 255, (n >> 8) & 255, n & 255];
  const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
  const bytes = [...ascii('MThd'), ...uint32(6), 0, 0, 0, 1, 1, 224];
  const path = scratchFile('mid');
  writeFileSync(path, Uint8Array.from([...bytes, ...ascii('MTrk'), ...uint32(events.length), ...events]));
  const wav = scratchFile('wav');
  execFileSync(
    'fluidsynth',
    ['-ni', '-q', '-R', '0', '-C', '0', '-g', '0.6', '-r', String(RATE), '-F', wav, SOUNDFONT, path],
    { stdio: 'ignore' },
  );
  return decode(wav);
}

export const fileBytes = (path: string): number => readFileSync(path).length;
