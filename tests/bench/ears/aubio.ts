import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Answer, BenchListener } from './listener.ts';

/** Debian's interpreter, where its python3-aubio lives: another python on the path would not see it. */
const PYTHON = '/usr/bin/python3';

/** True where python3-aubio is installed. */
export const aubioInstalled = (): boolean =>
  spawnSync(PYTHON, ['-c', 'import aubio, numpy'], { stdio: 'ignore' }).status === 0;

/** aubio's onsets by `method` with yinfft's pitch, in one Python process that lives as long as the bench. */
export function aubioListener(method: 'specflux' | 'hfc'): BenchListener {
  const folder = mkdtempSync(join(tmpdir(), 'twobar-aubio-'));
  const path = join(folder, 'take.f32');
  const child = spawn(PYTHON, [join(import.meta.dirname, 'aubio_listen.py'), method], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  return {
    name: `aubio ${method} + yinfft`,
    findsTuning: false,
    hear: async ({ signal, sampleRate }) => {
      writeFileSync(path, new Uint8Array(signal.buffer, signal.byteOffset, signal.byteLength));
      child.stdin.write(`${JSON.stringify({ path, rate: sampleRate })}\n`);
      const { value, done } = await lines.next();
      if (done) throw new Error('aubio stopped answering');
      return JSON.parse(value) as Answer;
    },
    close: () => {
      child.stdin.end();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
