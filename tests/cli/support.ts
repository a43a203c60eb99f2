import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Io } from '../../src/cli/io.ts';
import { run } from '../../src/cli/run.ts';
import { writeWav } from '../../src/exchange/index.ts';
import type { CueSheet } from '../../src/music/score.ts';

export const folder = mkdtempSync(join(tmpdir(), 'twobar-cli-'));

export function put(name: string, content: string | Uint8Array | object): string {
  const path = join(folder, name);
  const isRaw = typeof content === 'string' || content instanceof Uint8Array;
  writeFileSync(path, isRaw ? content : JSON.stringify(content));
  return path;
}

/** Runs a command in this process; sheets become one click a cue, so that a file tells what was rendered. */
export async function twobar(args: readonly string[], input = '') {
  let out = '';
  const rendered: { sheet: CueSheet; gainDb: number | undefined }[] = [];
  const io: Io = {
    out: (data) => {
      out += typeof data === 'string' ? data : `<${data.length} bytes>`;
    },
    inputLines: async function* () {
      yield* input.split('\n');
    },
    render: async (sheets, gainDb) =>
      sheets.map((sheet) => {
        rendered.push({ sheet, gainDb });
        const samples = new Float32Array(Math.ceil(sheet.durationSec * 8000));
        for (const cue of sheet.cues) samples[Math.floor(cue.atSec * 8000)] = 0.5;
        return { samples, sampleRate: 8000, gainDb: gainDb ?? -6 };
      }),
  };
  const { exit, problem } = await run(args, io);
  return { exit, problem, out, rendered };
}

/** Decaying harmonic tones, a crude plucked string: enough for the listener to name. */
export function plucked(notes: readonly { atSec: number; midi: number }[], lengthSec: number): Uint8Array {
  const rate = 44_100;
  const samples = new Float32Array(Math.ceil(lengthSec * rate));
  notes.forEach(({ atSec, midi }, k) => {
    const frequency = 440 * 2 ** ((midi - 69) / 12);
    const start = Math.round(atSec * rate);
    const end = Math.min(
      samples.length,
      k + 1 < notes.length ? Math.round(notes[k + 1]!.atSec * rate) : Infinity,
    );
    for (let i = start; i < end; i++) {
      const t = (i - start) / rate;
      for (let h = 1; h <= 8; h++)
        samples[i]! +=
          (0.15 / h) *
          Math.exp(-t * (2 + h)) *
          Math.min(1, t / 0.003) *
          Math.sin(2 * Math.PI * frequency * h * t);
    }
  });
  // Faded out over the last 50 ms: a recording that is cut off hard ends with a knock.
  const fade = Math.round(0.05 * rate);
  for (let i = 0; i < fade; i++) samples[samples.length - 1 - i]! *= i / fade;
  return writeWav(samples, rate);
}
