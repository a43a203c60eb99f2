import type { Sent } from '../../../audio-fixtures/bleed/scene.ts';
import type { Instrument } from '../../../src/music/score.ts';
import type { ReadingTask, ScaleTask } from '../../../src/music/task.ts';
import {
  handlerOf,
  levelList,
  makeReading,
  makeScale,
  performedSec,
} from '../../../src/tests-engine/index.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

/** From the preparation's end to the first count: the foot's press, and a buffer that starts. */
const BETWEEN_SEC = 0.25;
const renderer = nodeRenderer();

/** A page to read and a scale in turn, of the first six levels, each played to a click. */
export function clickTask(number: number, instrument: Instrument): ReadingTask | ScaleTask {
  const level = 1 + (number % 6);
  if (number % 2 === 0) return makeReading({ level, seed: number, instrument, click: true });
  const { entries } = levelList(level, instrument);
  return makeScale({
    named: entries[number % entries.length]!,
    instrument,
    level,
    seed: number,
    click: true,
  });
}

/**
 * What goes to the loudspeaker: so much of the preparation's click, then count and click of the take.
 * @param trainingSec of the preparation that were waited; 0: it was silent, or left at once
 */
export async function soundClick(
  task: ReadingTask | ScaleTask,
  trainingSec: number,
  sampleRate: number,
): Promise<Sent> {
  const sheet = (name: 'preparation' | 'performance') => handlerOf(task).sheet(task as never, name, {});
  const [prepared] = trainingSec > 0 ? await renderer.render([sheet('preparation')], { sampleRate }) : [];
  const [played] = await renderer.render([sheet('performance')], { sampleRate });
  const heard = prepared?.samples.subarray(0, Math.round(trainingSec * sampleRate)) ?? new Float32Array(0);
  const start = heard.length + Math.round(BETWEEN_SEC * sampleRate);
  const signal = new Float32Array(start + played!.samples.length);
  signal.set(heard);
  signal.set(played!.samples, start);
  const takeStart = played!.marks.find(({ label }) => label === 'takeStart')!.atSec;
  return {
    signal,
    sampleRate,
    takeSec: start / sampleRate + takeStart,
    hearingSec: [0, Math.max(0, trainingSec - 0.5)],
    target: task.phrase.notes.map((note) => {
      const onsetSec = performedSec(note.startTicks, task);
      const durationSec = performedSec(note.startTicks + note.durationTicks, task) - onsetSec;
      return { onsetSec, durationSec, midi: note.midi };
    }),
  };
}
