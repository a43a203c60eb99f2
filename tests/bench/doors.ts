import { spawnSync } from 'node:child_process';
import { loadavg } from 'node:os';
import { answered, HOSTILE } from '../support/hostile.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * What a refusal costs, `npm run bench:doors`: every hostile file and link in a process of its own, made there before
 * the clock starts. Memory is what the process grew by beyond what it had when the thing lay ready (largest resident
 * set; V8 gives back late, so it is an upper bound).
 */
const MOST_SEC = 5;
const MOST_MB = 300;
const [, , flag, which] = process.argv;

if (flag === '--one') {
  const hostile = HOSTILE[Number(which)]!;
  const given = (await hostile.make()) as never;
  globalThis.gc?.();
  // What making it took is no part of it: only what is beyond the present counts, looked at while it is read.
  const before = process.memoryUsage.rss();
  const made = process.resourceUsage().maxRSS * 1024;
  const from = performance.now();
  const answer = await answered(() => hostile.door(given));
  const sec = (performance.now() - from) / 1000;
  const most = process.resourceUsage().maxRSS * 1024;
  const grown = most > made ? most - before : Math.max(0, process.memoryUsage.rss() - before);
  process.stdout.write(JSON.stringify({ answer, sec, mb: grown / 2 ** 20 }));
} else {
  let worst = 0;
  for (const [i, { name, says }] of HOSTILE.entries()) {
    const ran = spawnSync(
      process.execPath,
      ['--expose-gc', '--import', 'tsx', import.meta.filename, '--one', String(i)],
      { encoding: 'utf8', timeout: 240_000 },
    );
    const { answer, sec, mb } = JSON.parse(ran.stdout || '{"answer":"DIED","sec":0,"mb":0}') as {
      answer: string;
      sec: number;
      mb: number;
    };
    const right = says.test(answer) && sec <= MOST_SEC && mb <= MOST_MB;
    if (!right) worst++;
    console.log(
      `${sec.toFixed(2).padStart(7)} s ${mb.toFixed(0).padStart(6)} MB  ${right ? ' ' : '!'} ${name}: ${answer.slice(0, 70)}`,
    );
  }
  console.log(
    `${HOSTILE.length} refusals, ${worst} beyond ${MOST_SEC} s or ${MOST_MB} MB or of other words; 2048-point FFT ${fftMicroseconds().toFixed(0)} µs, load ${loadavg()[0]!.toFixed(1)}`,
  );
  process.exitCode = worst > 0 ? 1 : 0;
}
