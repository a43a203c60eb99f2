import { markTake, type MarkRequest, type TargetNote } from '../../../src/tests-engine/index.ts';
import { align } from '../../../src/tests-engine/marks/align.ts';
import { kindest, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import { fftMicroseconds } from '../yardstick.ts';
import { random } from './stats.ts';

/** Best of some rounds, processor seconds a call: what a quiet core takes, whatever else runs on the machine. */
function secondsEach(work: () => void, calls: number, rounds = 60): number {
  let best = Infinity;
  for (let r = 0; r < rounds; r++) {
    const start = process.cpuUsage();
    for (let k = 0; k < calls; k++) work();
    const { user, system } = process.cpuUsage(start);
    best = Math.min(best, (user + system) / 1e6 / calls);
  }
  return best;
}

/** A phrase of `n` quavers at 100 bpm and a take of it: 40 ms of spread, one note in ten another. */
function pair(n: number, seed: number): Pick<MarkRequest, 'target' | 'played'> {
  const next = random(seed);
  const target: TargetNote[] = Array.from({ length: n }, (_, i) => ({
    onsetSec: i * 0.3,
    midi: 55 + Math.floor(next() * 12),
  }));
  const played = target.map((note) => ({
    onsetSec: note.onsetSec + 0.04 * (next() + next() + next() - 1.5) * 2,
    midi: next() < 0.1 ? note.midi! + 2 : note.midi!,
  }));
  return { target, played };
}

export function speed(): void {
  const fftSec = fftMicroseconds() / 1e6;
  console.log(
    `\n## Speed (processor time)\n\n2048-point complex radix-2 FFT: ${(fftSec * 1e6).toFixed(0)} µs\n`,
  );
  const pairs = Array.from({ length: 100 }, (_, k) => pair(12, k + 1));
  console.log('| | goal | found |\n|---|---|---|');
  for (const [clock, transposition, goal] of [
    ['backing', 'none', 10000],
    ['free', 'any', 1000],
  ] as const) {
    let k = 0;
    const each = secondsEach(() => markTake({ ...pairs[k++ % 100]!, clock, transposition }), 100);
    console.log(
      `| pairs of 12 notes a second, ${clock}, ${transposition} | ≥ ${goal} | ${(1 / each).toFixed(0)} (${(each / fftSec).toFixed(1)} FFTs each) |`,
    );
  }
  const long = pair(500, 7);
  const prepared = prepare({ ...long, clock: 'backing', transposition: 'none' });
  const { frame } = kindest(prepared, () => 1);
  const alone = secondsEach(() => align(frame, prepared.rule), 1, 12);
  console.log(`| one alignment of 500 against 500 | < 50 ms | ${(alone * 1e3).toFixed(1)} ms |`);
  for (const [clock, transposition] of [
    ['backing', 'none'],
    ['free', 'none'],
  ] as const)
    console.log(
      `| mark of 500 against 500, ${clock} | | ${(secondsEach(() => markTake({ ...long, clock, transposition }), 1, 8) * 1e3).toFixed(1)} ms |`,
    );
}
