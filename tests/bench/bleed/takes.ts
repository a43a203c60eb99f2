import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeScene, type Conditions, type Scene, type Sent } from '../../../audio-fixtures/bleed/scene.ts';
import { PRESENT, soundTest, type Backing } from './sent.ts';

/** Scenes are kept here between runs: making one costs as much as hearing it. */
const CACHE = resolve(import.meta.dirname, '../../../.cache/bleed');

export interface SceneOrder {
  /** Chooses test, player, room and machine; the same number gives the same under every condition. */
  readonly number: number;
  readonly condition: string;
  readonly is: Conditions;
  readonly sampleRate: number;
  /** Who plays the backing; the present arranger when absent. */
  readonly backing?: Backing;
}

export const instrumentOf = (number: number): 'guitar' | 'bass' => (number % 5 === 4 ? 'bass' : 'guitar');

/** A file name for what belongs to an order. */
export const orderName = ({ number, condition, sampleRate, backing = PRESENT }: SceneOrder): string =>
  `${number}-${condition.replace(/[^\w.+-]+/g, '_')}-${sampleRate}-over-${backing}`;

/** A scene by its order, from the cache or made. */
export async function orderScene(order: SceneOrder): Promise<BenchScene> {
  const path = `${CACHE}/${orderName(order)}.scene`;
  if (existsSync(path)) return read(path);
  const scene = await makeOrdered(order);
  write(path, scene);
  return scene;
}

/** The players of these scenes, by name: a bank added later leaves them as they are. */
const BANKS = {
  guitar: ['electric', 'acoustic', 'nylon', 'fluid-clean', 'fluid-jazz', 'fluid-steel', 'fluid-nylon'],
  bass: ['bass', 'fluid-fingered', 'fluid-picked', 'fluid-slap', 'fluid-fretless', 'fluid-upright'],
};

/** A scene by its order. One in five is a rhythm, one in five for bass. */
async function makeOrdered(order: SceneOrder): Promise<BenchScene> {
  const { number } = order;
  const instrument = instrumentOf(number);
  const banks = (await loadBanks()).all.filter(({ name }) => BANKS[instrument].includes(name));
  const bank = banks[number % banks.length]!;
  const kind = number % 5 === 3 ? ('rhythm' as const) : ('melody' as const);
  const sent = await sound(
    number,
    ...([order.sampleRate, kind, instrument, order.backing ?? PRESENT] as const),
  );
  return { ...makeScene(sent, bank, 90_000 + number, order.is), bank: bank.name };
}

export type BenchScene = Scene & { readonly bank: string };

let latest: { key: string; sent: Promise<Sent> } | null = null;

/** The test of a scene, rendered once for all conditions that follow one another. */
function sound(
  number: number,
  sampleRate: number,
  kind: 'melody' | 'rhythm',
  instrument: 'guitar' | 'bass',
  backing: Backing,
): Promise<Sent> {
  const key = `${number} ${sampleRate} ${backing}`;
  if (latest?.key !== key)
    latest = { key, sent: soundTest({ seed: 50_000 + number, sampleRate, kind, instrument, backing }) };
  return latest.sent;
}

/** A line of JSON, then recording and reference as 32-bit floats. */
function write(path: string, scene: BenchScene): void {
  const { recording, reference, ...rest } = scene;
  const head = Buffer.from(`${JSON.stringify({ ...rest, length: recording.length })}\n`);
  mkdirSync(CACHE, { recursive: true });
  writeFileSync(`${path}.part`, Buffer.concat([head, bytes(recording), bytes(reference)]));
  renameSync(`${path}.part`, path);
}

const bytes = (x: Float32Array): Buffer => Buffer.from(x.buffer, x.byteOffset, x.byteLength);

function read(path: string): BenchScene {
  const all = readFileSync(path);
  const end = all.indexOf(10);
  const { length, ...rest } = JSON.parse(all.toString('utf8', 0, end)) as Omit<
    Scene,
    'recording' | 'reference'
  > & { bank: string; length: number };
  const floats = new Float32Array(2 * length);
  Buffer.from(floats.buffer).set(all.subarray(end + 1));
  return { ...rest, recording: floats.subarray(0, length), reference: floats.subarray(length) };
}
