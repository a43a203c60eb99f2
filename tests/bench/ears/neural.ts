import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { resample } from '../../../audio-fixtures/resample.ts';
import type { BenchListener } from './listener.ts';

/** Not among the dependencies (290 MB): installed where asked for (USAGE of the bench). */
const HOME = join(import.meta.dirname, '../../../.cache/basic-pitch');

export const neuralInstalled = (): boolean => existsSync(join(HOME, 'node_modules/@spotify/basic-pitch'));

const RATE = 22_050;
/** Its own defaults: thresholds, and notes from 5 frames (58 ms) on. */
const [ONSET, FRAME, SHORTEST] = [0.5, 0.3, 5];
/** Pitches of the instruments, Hz. */
const LOWEST = 38;
const HIGHEST = 1400;

/** What is used of the packages, which are not there to be type-checked. */
interface Tensorflow {
  setBackend(name: string): Promise<boolean>;
  ready(): Promise<void>;
  loadGraphModel(handler: unknown): Promise<unknown>;
  readonly io: { fromMemory(artifacts: unknown): unknown };
  getKernel(name: string, backend: string): Kernel;
  unregisterKernel(name: string, backend: string): void;
  registerKernel(kernel: Kernel): void;
}
interface Kernel {
  kernelFunc(given: { readonly attrs: Readonly<Record<string, unknown>> }): unknown;
}
type Grid = number[][];
interface Neural {
  readonly BasicPitch: new (model: Promise<unknown>) => {
    evaluateModel(
      signal: Float32Array,
      onComplete: (frames: Grid, onsets: Grid, contours: Grid) => void,
      onProgress: (share: number) => void,
    ): Promise<void>;
  };
  outputToNotesPoly(
    frames: Grid,
    onsets: Grid,
    ...settings: readonly (number | boolean)[]
  ): readonly unknown[];
  noteFramesToTime(
    notes: readonly unknown[],
  ): readonly { readonly startTimeSeconds: number; readonly pitchMidi: number }[];
}

/** A neural polyphonic transcriber in the browser's own manner: TensorFlow.js on WebAssembly, one thread. */
export async function neuralListener(): Promise<BenchListener> {
  const require = createRequire(join(HOME, 'package.json'));
  const tf = require('@tensorflow/tfjs') as Tensorflow;
  const wasm = require('@tensorflow/tfjs-backend-wasm') as { setWasmPaths(folder: string): void };
  wasm.setWasmPaths(join(dirname(require.resolve('@tensorflow/tfjs-backend-wasm/package.json')), 'dist/'));
  if (!(await tf.setBackend('wasm'))) throw new Error('TensorFlow.js found no WebAssembly');
  await tf.ready();
  // Its WebAssembly fill does not know what to fill with when the model leaves that to the default.
  const fill = tf.getKernel('Fill', 'wasm');
  tf.unregisterKernel('Fill', 'wasm');
  tf.registerKernel({
    ...fill,
    kernelFunc: (given) =>
      fill.kernelFunc({ ...given, attrs: { ...given.attrs, dtype: given.attrs['dtype'] ?? 'float32' } }),
  });
  const neural = require('@spotify/basic-pitch') as Neural;
  const folder = join(dirname(require.resolve('@spotify/basic-pitch/package.json')), 'model');
  const { modelTopology, weightsManifest } = JSON.parse(readFileSync(join(folder, 'model.json'), 'utf8')) as {
    modelTopology: unknown;
    weightsManifest: { paths: string[]; weights: unknown[] }[];
  };
  const weights = Buffer.concat(
    weightsManifest.flatMap(({ paths }) => paths.map((path) => readFileSync(join(folder, path)))),
  );
  const model = tf.loadGraphModel(
    tf.io.fromMemory({
      modelTopology,
      weightSpecs: weightsManifest.flatMap((group) => group.weights),
      weightData: weights.buffer.slice(weights.byteOffset, weights.byteOffset + weights.byteLength),
    }),
  );
  const transcriber = new neural.BasicPitch(model);
  await model;
  return {
    name: 'basic-pitch (wasm)',
    findsTuning: false,
    hear: async ({ signal, sampleRate }) => {
      const input = resample(signal, sampleRate / RATE);
      const from = process.cpuUsage();
      const frames: Grid = [];
      const onsets: Grid = [];
      await transcriber.evaluateModel(
        input,
        (f, o) => {
          frames.push(...f);
          onsets.push(...o);
        },
        () => {},
      );
      const found = neural.noteFramesToTime(
        neural.outputToNotesPoly(frames, onsets, ONSET, FRAME, SHORTEST, true, HIGHEST, LOWEST, true),
      );
      const { user, system } = process.cpuUsage(from);
      return {
        notes: found
          .map(({ startTimeSeconds, pitchMidi }) => ({ onsetSec: startTimeSeconds, midi: pitchMidi }))
          .sort((a, b) => a.onsetSec - b.onsetSec),
        seconds: (user + system) / 1e6,
      };
    },
    close: () => {},
  };
}
