import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { barTicks } from '../../src/music/metre.ts';
import type { ImprovisingTask } from '../../src/music/task.ts';
import { performedSec, phraseSec } from '../../src/music/time.ts';
import { chordScale, chartOf, handlerOf } from '../../src/tests-engine/index.ts';
import type { Performance } from '../support/simulated-player.ts';

const SAMPLE_RATE = 48_000;
/** The recorded attack may start a little before its note is due. */
const LEAD_SEC = 0.3;

/**
 * A crotchet on each beat of real recorded notes, the third of the chord on the first of a bar and its other notes after,
 * once a pass; `silent`: bars without any.
 */
export async function improvisedLine(
  task: ImprovisingTask,
  passes: readonly { readonly silent: readonly number[] }[],
): Promise<Performance> {
  const bank = await loadNpmBank('electric');
  const chart = chartOf(task);
  const bar = barTicks(chart.metre);
  const low = (pc: number): number => 52 + ((pc - 52 + 120) % 12);
  const plan = passes.flatMap(({ silent }, pass) =>
    Array.from({ length: chart.bars * 4 }, (_, k) => k * 480)
      .filter((at) => !silent.includes(Math.floor(at / bar) + 1))
      .map((at) => {
        const symbol = chart.chords.findLast(({ startTicks }) => startTicks <= at)!.symbol;
        const tones = [...chordScale(symbol, chart.key).tones];
        const tone = at % bar === 0 ? tones[1]! : tones[(at / 480) % tones.length]!;
        const onsetSec = LEAD_SEC + pass * phraseSec(task) + performedSec(at, task);
        const durationSec = 0.85 * (performedSec(at + 480, task) - performedSec(at, task));
        return { onsetSec, durationSec, midi: low(tone), levelDb: 0 };
      }),
  );
  const durationSec = LEAD_SEC + passes.length * phraseSec(task) + 1;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  const sheet = handlerOf(task).sheet(task, 'performance', {});
  const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
  return {
    ...{ pcm: Float32Array.from(signal), sampleRate: SAMPLE_RATE },
    ...{ lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC, roundTripSec: 'reported' },
  };
}
