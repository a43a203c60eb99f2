import { hearTake } from '../../../src/dsp/index.ts';
import { hearLeft, LEAD_SEC } from '../../../src/dsp/bleed/hearOver.ts';
import { cancelBacking } from '../../../src/dsp/bleed/cancel.ts';
import type { OverFacts } from '../../../src/dsp/bleed/selfCheck.ts';
import type { Scene } from '../../../audio-fixtures/bleed/scene.ts';
import { tally, type Note, type Tally } from '../../support/fixtures/note-metrics.ts';
import type { SceneOrder } from './takes.ts';

/** What became of one scene. */
export interface BleedResult {
  readonly number: number;
  readonly condition: string;
  /** The recording heard as it is. */
  readonly nothing: Tally;
  /** The chain; where it finds no backing, the same as `nothing`. */
  readonly chain: Tally;
  readonly verdict: string;
  readonly reason: string | null;
  /** Null where no backing was found. */
  readonly cancelled: {
    readonly facts: OverFacts;
    readonly cancellationDb: number;
    readonly delayErrorMs: number;
    readonly driftErrorPpm: number;
  } | null;
  readonly recordingSec: number;
  /** CPU seconds of the chain, hearing included. */
  readonly cpuSec: number;
}

const SAMPLE_SPAN = (scene: Scene): number => Math.round((scene.fromSec - LEAD_SEC) * scene.sampleRate);

/** Hears a scene both ways and compares with its truth. */
export function runScene(order: SceneOrder, scene: Scene, instrument: 'guitar' | 'bass'): BleedResult {
  const start = SAMPLE_SPAN(scene);
  const startSec = start / scene.sampleRate;
  const truth: Note[] = scene.truth.map(({ onsetSec, midi }) => ({ onsetSec: onsetSec - startSec, midi }));
  const before = process.cpuUsage();
  const cancelled = cancelBacking(scene.recording, scene.reference, scene.sampleRate, startSec);
  const over = cancelled && hearLeft(cancelled);
  const { user, system } = process.cpuUsage(before);
  const alone = hearTake(scene.recording.subarray(start), scene.sampleRate, { instrument });
  const { notes, heard } = over ?? alone;
  return {
    number: order.number,
    condition: order.condition,
    nothing: tally(truth, alone.notes),
    chain: tally(truth, notes),
    verdict: heard.verdict,
    reason: heard.reason,
    cancelled: cancelled && {
      facts: over!.facts,
      cancellationDb: cancelled.cancellationDb,
      delayErrorMs: cancelled.delayMs - 1000 * scene.delaySec,
      driftErrorPpm: cancelled.driftPpm - scene.driftPpm,
    },
    recordingSec: scene.recording.length / scene.sampleRate,
    cpuSec: (user + system) / 1e6,
  };
}
