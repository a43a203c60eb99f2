import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { hearTake } from '../../../src/dsp/index.ts';
import { hearLeft, LEAD_SEC } from '../../../src/dsp/bleed/hearOver.ts';
import type { OverFacts } from '../../../src/dsp/bleed/selfCheck.ts';
import type { HeardTake } from '../../../src/notes.ts';
import { tally, type Note, type Tally } from '../../support/fixtures/note-metrics.ts';
import { timed } from '../ears/listener.ts';
import { orderCancelled } from './cancelled.ts';
import { instrumentOf, orderName, orderScene, type SceneOrder } from './takes.ts';

/** What became of one scene. */
export interface BleedResult {
  readonly number: number;
  readonly condition: string;
  /** The recording heard as it is; null where that was not asked for. */
  readonly nothing: Tally | null;
  readonly chain: Tally;
  readonly verdict: string;
  readonly reason: string | null;
  /** Null where no backing was found: then the chain gives what is heard without it. */
  readonly cancelled: {
    readonly facts: OverFacts;
    readonly cancellationDb: number;
    readonly bleedDb: number;
    readonly delayErrorMs: number;
    readonly driftErrorPpm: number;
  } | null;
  readonly recordingSec: number;
  /** CPU seconds of the chain, hearing included. */
  readonly cpuSec: number;
}

const CACHE = resolve(import.meta.dirname, '../../../.cache/bleed');

/** The take heard as it is; kept, since it costs as much as the chain and changes only with the plain listener. */
async function hearPlain(order: SceneOrder, again: boolean): Promise<HeardTake> {
  const path = `${CACHE}/${orderName(order)}.plain.json`;
  if (!again && existsSync(path)) return JSON.parse(readFileSync(path, 'utf8')) as HeardTake;
  const { recording, fromSec, sampleRate } = await orderScene(order);
  const start = Math.round((fromSec - LEAD_SEC) * sampleRate);
  const take = hearTake(recording.subarray(start), sampleRate, { instrument: instrumentOf(order.number) });
  writeFileSync(path, JSON.stringify(take));
  return take;
}

/** Hears a scene and compares with its truth. */
export async function runScene(
  order: SceneOrder,
  options: { readonly nothing: boolean; readonly again: boolean },
): Promise<BleedResult> {
  const scene = await orderCancelled(order);
  const { cancelled, startSec, errors, recordingSec } = scene;
  const truth: Note[] = scene.truth.map(({ onsetSec, midi }) => ({ onsetSec: onsetSec - startSec, midi }));
  const { value: over, seconds } = timed(() => cancelled && hearLeft(cancelled));
  const plain = options.nothing || !over ? await hearPlain(order, options.again) : null;
  const { notes, heard } = (over ?? plain)!;
  return {
    number: order.number,
    condition: order.condition,
    nothing: plain && tally(truth, plain.notes),
    chain: tally(truth, notes),
    verdict: heard.verdict,
    reason: heard.reason,
    cancelled: cancelled && {
      facts: over!.facts,
      cancellationDb: cancelled.cancellationDb,
      bleedDb: cancelled.bleedDb,
      delayErrorMs: errors!.delayMs,
      driftErrorPpm: errors!.driftPpm,
    },
    recordingSec,
    cpuSec: scene.cpuSec + seconds,
  };
}
