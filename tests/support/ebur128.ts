import { spawnSync } from 'node:child_process';

let available: boolean | null = null;
/** True where ffmpeg is installed; tests that need it skip without. */
export const hasFfmpeg = (): boolean => (available ??= spawnSync('ffmpeg', ['-version']).status === 0);

/** An independent meter's word: integrated loudness (LUFS) and true peak (dBTP) by ffmpeg's ebur128. */
export function ebur128(mono: Float32Array, sampleRate: number): { lufs: number; truePeakDb: number } {
  const args = ['-hide_banner', '-f', 'f32le', '-ar', String(sampleRate), '-ac', '1', '-i', '-'];
  const { stderr } = spawnSync('ffmpeg', [...args, '-af', 'ebur128=peak=true', '-f', 'null', '-'], {
    input: new Uint8Array(mono.buffer, mono.byteOffset, mono.byteLength),
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  const summary = stderr.slice(stderr.lastIndexOf('Summary:'));
  const read = (name: RegExp): number => {
    const match = name.exec(summary);
    if (!match) throw new Error(`ffmpeg gave no summary: ${stderr.slice(-400)}`);
    return Number(match[1]);
  };
  return { lufs: read(/I:\s+(-?[\d.]+) LUFS/), truePeakDb: read(/Peak:\s+(-?[\d.]+) dBFS/) };
}
