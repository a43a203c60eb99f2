import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import type { PlannedNote } from '../../audio-fixtures/planned.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { hearOverBacking } from '../../src/dsp/index.ts';
import type { ImprovisingTask } from '../../src/music/task.ts';
import { phraseSec, swungTicks } from '../../src/music/time.ts';
import { bpm, ticksToSec } from '../../src/music/units.ts';
import {
  chartOf,
  handlerOf,
  improvisedFacts,
  makeImprovising,
  takeOf,
} from '../../src/tests-engine/index.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { PLANTED, type Planted } from './improvising/planted.ts';
import { inRoom } from '../../audio-fixtures/bleed/inRoom.ts';
import { strokesTable } from './improvising/strokes.ts';
import { figuresOf } from './figures.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * What is told of lines with known properties, through real sound: recorded notes over the chart's own backing from
 * a simulated loudspeaker in a simulated room, as loud at the microphone as the guitar.
 *
 * Then strokes of chords with known truth in the same rooms, over bass and drums: twice as many takes as of each property.
 *
 *   npm run bench:improvising -- [takes of each property, 12] [--write]
 */
figuresOf('improvising', 'bench:improvising');
const RATE = 24_000;
const BLEED_DB = 0;
const takes = Number(process.argv[2] ?? 12);
const FIRST_SEED = 710_000;
const renderer = nodeRenderer();
/** One take heard and told. */
async function told(planted: Planted, seed: number): Promise<boolean> {
  const random = makeRandom(seed);
  const level = 1 + (seed % 10);
  const drawn = makeImprovising({ level, seed, instrument: 'guitar' });
  const task: ImprovisingTask = { ...drawn, tempoBpm: bpm(Math.min(drawn.tempoBpm, planted.fastest)) };
  const sheet = handlerOf(task).sheet(task, 'performance', { count: 'click' });
  const [sent] = await renderer.render([sheet], { sampleRate: RATE });
  const starts = sheet.marks.filter(({ label }) => label === 'takeStart').map(({ atSec }) => atSec as number);
  const chart = chartOf(task);
  const swing = planted.swing ?? task.swing;
  const at = (ticks: number): number => ticksToSec(swungTicks(ticks, swing), task.tempoBpm);
  const plan = starts.flatMap((start): PlannedNote[] =>
    planted.line(chart, random).map(([ticks, length, midi]) => ({
      onsetSec: start + at(ticks) + ((planted.biasMs ?? 0) + 10 * random.normal()) / 1000,
      durationSec: 0.9 * (at(ticks + length) - at(ticks)),
      midi,
      levelDb: random.between(-3, 1),
    })),
  );
  const bank = await loadNpmBank(seed % 2 ? 'electric' : 'acoustic');
  const length = sent!.samples.length;
  const { signal } = perform(
    plan.sort((a, b) => a.onsetSec - b.onsetSec),
    bank,
    { sampleRate: RATE, durationSec: length / RATE, random },
  );
  const [from, to] = [starts[1]!, starts[1]! + phraseSec(task)];
  const recording = inRoom(signal, sent!.samples, { sampleRate: RATE, bleedDb: BLEED_DB, from, to, random });
  const heard = hearOverBacking(recording, RATE, {
    instrument: 'guitar',
    reference: sent!.samples,
    fromSec: starts[1]!,
  });
  const take = takeOf(
    heard,
    { beatOneSec: starts[1]!, latencySec: (heard.heard.delayMs ?? 0) / 1000 },
    handlerOf(task).span(task),
  );
  if (heard.heard.verdict === 'refused') return false;
  return planted.isTold(improvisedFacts({ chart, notes: take.notes }), chart);
}

console.log(`2048-point complex radix-2 FFT: ${fftMicroseconds().toFixed(0)} µs\n`);
console.log(`| planted | told right of ${takes} | levels |\n|---|---|---|`);
let right = 0;
for (const planted of PLANTED) {
  const wrong: number[] = [];
  for (let i = 0; i < takes; i++) {
    const seed = FIRST_SEED + i;
    if (!(await told(planted, seed))) wrong.push(seed);
  }
  right += takes - wrong.length;
  console.log(
    `| ${planted.name} | ${takes - wrong.length} | ${wrong.length > 0 ? `wrong: ${wrong.map((s) => `level ${1 + (s % 10)}`).join(', ')}` : 'all'} |`,
  );
}
console.log(
  `\nall: ${right} of ${takes * PLANTED.length} (${((100 * right) / (takes * PLANTED.length)).toFixed(1)} %)`,
);
console.log(`\n${(await strokesTable(renderer, 2 * takes)).join('\n')}`);
