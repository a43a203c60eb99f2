import { hearTake } from '../../../src/dsp/index.ts';
import { hearLeft } from '../../../src/dsp/bleed/hearLeft.ts';
import { playable } from '../../../src/dsp/note/range.ts';
import { isHeard, LEAD_SEC } from '../../../src/dsp/bleed/hearOver.ts';
import type { OverFacts } from '../../../src/dsp/bleed/selfCheck.ts';
import { tally, type Note, type Tally } from '../../support/fixtures/note-metrics.ts';
import { timed } from '../ears/listener.ts';
import { CHAIN, orderCancelled } from './cancelled.ts';
import { once, recall } from './ledger.ts';
import { PRESENT, type Backing } from './sent.ts';
import { stateOf } from './sources.ts';
import { instrumentOf, orderName, orderScene, type SceneOrder } from './takes.ts';

/** The recording heard as it is. */
export interface PlainResult {
  readonly tally: Tally;
  readonly verdict: string;
  readonly reason: string | null;
}

/** The recording heard over the backing. */
export interface OverResult extends PlainResult {
  readonly facts: OverFacts;
  readonly cancellationDb: number;
  readonly bleedDb: number;
  readonly delayErrorMs: number;
  readonly driftErrorPpm: number;
  readonly recordingSec: number;
  /** CPU seconds of the chain, hearing included. */
  readonly cpuSec: number;
}

/** What became of one scene. */
export interface BleedResult {
  readonly backing: Backing;
  readonly number: number;
  readonly condition: string;
  /** Null where that was not asked for. */
  readonly plain: PlainResult | null;
  /** Null where no backing was found: then the chain gives what is heard without it. */
  readonly over: OverResult | null;
}

/** Results belong to one state of the sources: of the plain listener, and of the chain with what it uses. */
const PLAIN = stateOf('hear/hearTake.ts');
const OVER = stateOf('bleed/hearLeft.ts');

const truthFrom = (truth: readonly Note[], startSec: number): Note[] =>
  truth.map(({ onsetSec, midi }) => ({ onsetSec: onsetSec - startSec, midi }));

const plainKey = (order: SceneOrder): string => `plain ${PLAIN} ${orderName(order)}`;
const overKey = (order: SceneOrder): string => `over ${CHAIN} ${OVER} ${orderName(order)}`;

async function hearPlain(order: SceneOrder): Promise<PlainResult> {
  const { recording, fromSec, sampleRate, truth } = await orderScene(order);
  const start = Math.round((fromSec - LEAD_SEC) * sampleRate);
  const { notes, heard } = hearTake(recording.subarray(start), sampleRate, {
    instrument: instrumentOf(order.number),
  });
  return {
    tally: tally(truthFrom(truth, start / sampleRate), notes),
    verdict: heard.verdict,
    reason: heard.reason,
  };
}

async function hearOver(order: SceneOrder): Promise<OverResult | 'no backing found'> {
  const { cancelled, startSec, errors, recordingSec, truth, cpuSec } = await orderCancelled(order);
  if (!cancelled || !isHeard(cancelled)) return 'no backing found';
  const { value, seconds } = timed(() =>
    hearLeft(cancelled, playable({ instrument: instrumentOf(order.number) })),
  );
  return {
    tally: tally(truthFrom(truth, startSec), value.notes),
    verdict: value.heard.verdict,
    reason: value.heard.reason,
    facts: value.facts,
    cancellationDb: cancelled.cancellationDb,
    bleedDb: cancelled.bleedDb,
    delayErrorMs: errors!.delayMs,
    driftErrorPpm: errors!.driftPpm,
    recordingSec,
    cpuSec: cpuSec + seconds,
  };
}

/** Hears a scene and compares with its truth, or recalls what an earlier run found. */
export async function runScene(order: SceneOrder, nothing: boolean): Promise<BleedResult> {
  const { number, condition, backing = PRESENT } = order;
  const heard = await once(overKey(order), () => hearOver(order));
  const over = heard === 'no backing found' ? null : heard;
  const plain = nothing || !over ? await once(plainKey(order), () => hearPlain(order)) : null;
  return { number, condition, backing, plain, over };
}

/** What earlier runs found of a scene; null where they did not come to it. */
export function recallScene(order: SceneOrder): BleedResult | null {
  const { number, condition, backing = PRESENT } = order;
  const heard = recall<OverResult | 'no backing found'>(overKey(order));
  const plain = recall<PlainResult>(plainKey(order));
  if (heard === null || (heard === 'no backing found' && !plain)) return null;
  return { number, condition, backing, plain, over: heard === 'no backing found' ? null : heard };
}
