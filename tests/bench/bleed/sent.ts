import type { Sent } from '../../../audio-fixtures/bleed/scene.ts';
import type { Instrument, PracticeTest, TestKind } from '../../../src/music/score.ts';
import type { Arranger } from '../../../src/music/styles.ts';
import {
  harmonised,
  hearingSheet,
  makeTest,
  performanceSheet,
  performedSec,
  STYLE_NAMES,
  type Style,
} from '../../../src/tests-engine/index.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

/** Who plays the backing: the one before there were chords, or an arranger by its number. The last is the present one. */
export const BACKINGS = ['none', '2', '3', '4'] as const;
export const PRESENT = BACKINGS.at(-1)!;
export type Backing = (typeof BACKINGS)[number];

/** The same test over the backing of an earlier time. */
function over(test: PracticeTest, backing: Backing): PracticeTest {
  if (backing !== 'none') return harmonised(test, Number(backing) as Arranger);
  const plain: { backing?: unknown } & PracticeTest = { ...test };
  delete plain.backing;
  return plain;
}

/** The practice window is cut to this: its samples are silence anyway. */
const PRACTICE_SEC = 2;
const renderer = nodeRenderer();

export interface SoundOrder {
  readonly seed: number;
  readonly sampleRate: number;
  readonly kind: TestKind;
  readonly instrument: Instrument;
  /** The present arranger when absent. */
  readonly backing?: Backing;
}

/** A test of the first three levels as it is really sounded: hearing, a short practice window, performance. */
export async function soundTest({
  seed,
  sampleRate,
  kind,
  instrument,
  backing = PRESENT,
}: SoundOrder): Promise<Sent> {
  const style = STYLE_NAMES[seed % STYLE_NAMES.length] as Style;
  const test = over(makeTest({ kind, level: 1 + (seed % 3), seed, instrument, style }), backing);
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
