import { spawn } from 'node:child_process';
import { mkdtempSync, openSync, readFileSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { phraseSet } from '../../audio-fixtures/index.ts';
import { listenTo } from '../../src/cli/listen.ts';
import { createResampler, hearTake } from '../../src/dsp/index.ts';
import { louderChannel, readWav, writeWav } from '../../src/exchange/index.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Does `hear` of an hour stay flat? Phrases one after another, 16-bit stereo (the right channel the louder), heard by the
 * program in a process of its own, whose largest resident set is looked at ten times a second:
 *   npm run bench:hour -- [MINUTES] [RATE] [--chords] [--backing]
 * With --chords its strums; with --backing as a take over a loudspeaker that played the very same sound.
 *
 * With --identity [--every N] instead: is each take of the development set (one of N) heard as a file, in blocks, to the very
 * same notes as it is heard whole?
 */
const { values: asked, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    identity: { type: 'boolean' },
    every: { type: 'string', default: '1' },
    chords: { type: 'boolean', default: false },
    backing: { type: 'boolean', default: false },
  },
});
const [minutes = 60, rate = 44_100] = positionals.map(Number);
const ROOT = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'twobar-hour-'));
const path = join(folder, 'hour.wav');

function writeHour(takes: readonly Float32Array[]): void {
  const frames = minutes * 60 * rate;
  const head = Buffer.alloc(44);
  head.write('RIFF\0\0\0\0WAVEfmt ', 0, 'latin1');
  head.writeUInt32LE(36 + frames * 4, 4);
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(2, 22);
  head.writeUInt32LE(rate, 24);
  head.writeUInt32LE(rate * 4, 28);
  head.writeUInt16LE(4, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36, 'latin1');
  head.writeUInt32LE(frames * 4, 40);
  const file = openSync(path, 'w');
  writeSync(file, head);
  let written = 0;
  for (let k = 0; written < frames; k++) {
    const take = takes[k % takes.length]!.subarray(0, frames - written);
    const bytes = Buffer.alloc(take.length * 4);
    take.forEach((x, i) => {
      bytes.writeInt16LE(Math.round(3000 * x), 4 * i);
      bytes.writeInt16LE(Math.round(30_000 * Math.max(-1, Math.min(1, x))), 4 * i + 2);
    });
    writeSync(file, bytes);
    written += take.length;
  }
}

function atRate(signal: Float32Array, from: number): Float32Array {
  if (from === rate) return signal;
  const parts: number[] = [];
  const resampler = createResampler(from, rate);
  const keep = (part: Float32Array) => void part.forEach((x) => parts.push(x));
  resampler.push(signal, keep);
  resampler.finish(keep);
  return Float32Array.from(parts);
}

async function identity(every: number): Promise<void> {
  const recipes = (await phraseSet()).filter((_, i) => i % every === 0);
  let [same, notes] = [0, 0];
  for (const [i, recipe] of recipes.entries()) {
    const made = recipe.make();
    const options = { instrument: 'guitar' } as const;
    const wav = writeWav(made.signal, made.sampleRate);
    const take = join(folder, `${i}.wav`);
    writeFileSync(take, wav);
    const whole = hearTake(louderChannel(readWav(wav)), made.sampleRate, options);
    const inBlocks = await listenTo(take, options);
    rmSync(take);
    notes += whole.notes.length;
    if (JSON.stringify(whole) === JSON.stringify(inBlocks)) same++;
    else console.log(`take ${i * every} differs`);
  }
  rmSync(folder, { recursive: true });
  console.log(`${same} of ${recipes.length} takes, ${notes} notes: heard in blocks as they are heard whole`);
  process.exit(same === recipes.length ? 0 : 1);
}
if (asked.identity) await identity(Number(asked.every));

const takes = (await phraseSet()).slice(0, 12).map((recipe) => {
  const { signal, sampleRate } = recipe.make();
  return atRate(signal, sampleRate);
});
writeHour(takes);
const from = performance.now();
const more = [...(asked.chords ? ['--chords'] : []), ...(asked.backing ? ['--backing', path] : [])];
const child = spawn(process.execPath, [join(ROOT, 'src/cli/start.js'), 'hear', path, ...more], { cwd: ROOT });
let [out, err, most] = ['', '', 0];
child.stdout.on('data', (part) => (out += part));
child.stderr.on('data', (part) => (err += part));
const looking = setInterval(() => {
  try {
    const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
    most = Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? most);
  } catch {
    // It has ended.
  }
}, 100);
const exit = await new Promise((done) => child.on('close', done));
clearInterval(looking);
const sec = (performance.now() - from) / 1000;
rmSync(folder, { recursive: true });
console.log(
  `${[`${minutes} minutes at ${rate} Hz`, ...more.filter((word) => word.startsWith('--'))].join(' ')}: ${sec.toFixed(0)} s, ${((minutes * 60) / sec).toFixed(0)} × real time, most memory ${(most / 1024).toFixed(0)} MB, exit ${String(exit)}; ${out.trim().split('\n').at(-1) ?? ''}${err}; 2048-point FFT ${fftMicroseconds().toFixed(0)} µs`,
);
