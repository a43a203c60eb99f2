import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { phraseSet } from '../../audio-fixtures/index.ts';
import { createListener, createLiveEar } from '../../src/dsp/index.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Does memory stay flat while an hour is heard? Phrases at 44.1 kHz one after another, fed to both ears as a browser
 * feeds them:
 *   npx tsx tests/bench/ears-memory.ts [MINUTES]
 * Every tenth of the time: what is held after a garbage collection, and the process's resident memory.
 */
const RATE = 44_100;
const BLOCK = 128;
const minutes = Number(process.argv[2] ?? 60);
if (!(minutes >= 1)) throw new RangeError(`MINUTES is a number from 1, got ${process.argv[2]}`);

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;
const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(1).padStart(7);

const takes = (await phraseSet()).flatMap((recipe) => {
  const { signal, sampleRate } = recipe.make();
  return sampleRate === RATE ? [signal] : [];
});
const total = minutes * 60 * RATE;
const step = total / 10;
const listener = createListener({ sampleRate: RATE, instrument: 'guitar' });
const live = createLiveEar({ sampleRate: RATE, instrument: 'guitar' });
let pushed = 0;
let due = step;
let told = 0;

console.log(`2048-point complex radix-2 FFT: ${fftMicroseconds().toFixed(0)} µs`);
console.log('minutes  held MB  buffers MB  resident MB  onsets told live');
for (let k = 0; pushed < total; k++) {
  const take = takes[k % takes.length]!;
  for (let at = 0; at < take.length && pushed < total; at += BLOCK) {
    const block = take.subarray(at, at + BLOCK);
    listener.push(block);
    for (const event of live.push(block)) if (event.type === 'onset') told++;
    pushed += block.length;
  }
  if (pushed < due) continue;
  due += step;
  // Twice: what the first finds dead among buffers is given back at the second.
  collect();
  collect();
  const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
  const at = (pushed / RATE / 60).toFixed(1).padStart(7);
  console.log(`${at} ${megabytes(heapUsed)}  ${megabytes(arrayBuffers)}     ${megabytes(rss)}      ${told}`);
}
const { notes, heard } = listener.finish();
console.log(`${notes.length} notes heard again, ${heard.verdict}`);
