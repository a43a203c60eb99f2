import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { cancelBacking, type Cancelled } from '../../../src/dsp/bleed/cancel.ts';
import { LEAD_SEC } from '../../../src/dsp/bleed/hearOver.ts';
import type { TrueNote } from '../../../audio-fixtures/planned.ts';
import { stateOf } from './sources.ts';
import { orderName, orderScene, type SceneOrder } from './takes.ts';

/** A scene after cancelling, with what is needed to label and judge it. */
export interface CancelledScene {
  /** Null where no backing was found. */
  readonly cancelled: Cancelled | null;
  /** Where `cancelled` starts in the recording. */
  readonly startSec: number;
  /** Attacks in recording time. */
  readonly truth: readonly TrueNote[];
  readonly bank: string;
  /** Null where no backing was found. */
  readonly errors: { readonly delayMs: number; readonly driftPpm: number } | null;
  readonly recordingSec: number;
  /** CPU seconds of cancelling. */
  readonly cpuSec: number;
}

const CACHE = resolve(import.meta.dirname, '../../../.cache/bleed');
/** Kept results belong to one state of the sources. */
export const CHAIN = stateOf('bleed/cancel.ts');

/** A scene with its backing taken out, from the cache or worked out. */
export async function orderCancelled(order: SceneOrder): Promise<CancelledScene> {
  const path = `${CACHE}/${orderName(order)}.${CHAIN}.left`;
  if (existsSync(path)) return read(path);
  const scene = await orderScene(order);
  const startSec = scene.fromSec - LEAD_SEC;
  const before = process.cpuUsage();
  const cancelled = cancelBacking(scene.recording, scene.reference, scene.sampleRate, startSec);
  const { user, system } = process.cpuUsage(before);
  const made = {
    cancelled,
    startSec,
    truth: scene.truth,
    bank: scene.bank,
    errors: cancelled && {
      delayMs: cancelled.delayMs - 1000 * scene.delaySec,
      driftPpm: cancelled.driftPpm - scene.driftPpm,
    },
    recordingSec: scene.recording.length / scene.sampleRate,
    cpuSec: (user + system) / 1e6,
  };
  mkdirSync(CACHE, { recursive: true });
  const { left, bleed, heard, ...numbers } = cancelled ?? { left: [], bleed: [], heard: [] };
  const head = { ...made, cancelled: cancelled && numbers, length: left.length };
  const blocks = [left, bleed, heard].map((x) => Buffer.from(Float32Array.from(x).buffer));
  writeFileSync(`${path}.part`, Buffer.concat([Buffer.from(`${JSON.stringify(head)}\n`), ...blocks]));
  renameSync(`${path}.part`, path);
  return made;
}

function read(path: string): CancelledScene {
  const all = readFileSync(path);
  const end = all.indexOf(10);
  const { length, ...rest } = JSON.parse(all.toString('utf8', 0, end)) as CancelledScene & { length: number };
  const floats = new Float32Array(3 * length);
  Buffer.from(floats.buffer).set(all.subarray(end + 1));
  const part = (i: number): Float64Array => Float64Array.from(floats.subarray(i * length, (i + 1) * length));
  return {
    ...rest,
    cancelled: rest.cancelled && { ...rest.cancelled, left: part(0), bleed: part(1), heard: part(2) },
  };
}
