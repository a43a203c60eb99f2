import type { Sent } from '../../../audio-fixtures/bleed/scene.ts';
import type { Instrument, TestKind } from '../../../src/music/score.ts';
import {
  hearingSheet,
  makeTest,
  performanceSheet,
  performedSec,
  STYLE_NAMES,
  type Style,
} from '../../../src/tests-engine/index.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

/** The practice window is cut to this: its samples are silence anyway. */
const PRACTICE_SEC = 2;
const renderer = nodeRenderer();

export interface SoundOrder {
  readonly seed: number;
  readonly sampleRate: number;
  readonly kind: TestKind;
  readonly instrument: Instrument;
}

/** A test of the first three levels as it is really sounded: hearing, a short practice window, performance. */
export async function soundTest({ seed, sampleRate, kind, instrument }: SoundOrder): Promise<Sent> {
  const style = STYLE_NAMES[seed % STYLE_NAMES.length] as Style;
  const test = makeTest({ kind, level: 1 + (seed % 3), seed, instrument, style });
  const sheets = [hearingSheet(test), performanceSheet(test)];
  const rendered = await renderer.render(sheets, { sampleRate });
  const [hearing, performance] = [rendered[0]!, rendered[1]!];
  const start = hearing.samples.length + Math.round(PRACTICE_SEC * sampleRate);
  const signal = new Float32Array(start + performance.samples.length);
  signal.set(hearing.samples);
  signal.set(performance.samples, start);
  const takeStart = performance.marks.find((m) => m.label === 'takeStart')!.atSec;
  return {
    signal,
    sampleRate,
    takeSec: start / sampleRate + takeStart,
    hearingSec: [0.3, hearing.samples.length / sampleRate - 0.3],
    target: test.phrase.notes.map((note) => {
      const onsetSec = performedSec(note.startTicks, test);
      return {
        onsetSec,
        durationSec: performedSec(note.startTicks + note.durationTicks, test) - onsetSec,
        midi: note.midi,
      };
    }),
  };
}
