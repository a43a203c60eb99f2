import { lowPassOnce } from '../effects/filters.ts';
import { resample } from '../resample.ts';
import { NOISE_SOURCES, noiseSourceInstalled } from './sources.ts';
import type { Random } from '../random.ts';
import type { NoiseKind, NoiseSide } from './sources.ts';

export type { NoiseKind, NoiseSide } from './sources.ts';

interface RecordedNoise {
  readonly pcm: Float32Array;
  readonly sampleRate: number;
}
/** That of `more` holds those of `fit` besides. */
const shelves = new Map<string, RecordedNoise[]>();
const shelf = (side: NoiseSide, kind: NoiseKind): RecordedNoise[] => {
  const name = `${side} ${kind}`;
  if (!shelves.has(name)) shelves.set(name, []);
  return shelves.get(name)!;
};

/** Is any recorded noise of each side on this machine? */
export const noisesInstalled = (): boolean =>
  (['fit', 'kept'] as const).every((side) =>
    Object.values(NOISE_SOURCES).some((source) => source.side === side && noiseSourceInstalled(source)),
  );

/** Packages whose noises are not on this machine. */
export const absentNoises = (): string[] =>
  Object.entries(NOISE_SOURCES).flatMap(([name, source]) => (noiseSourceInstalled(source) ? [] : [name]));

let loading: Promise<void> | null = null;

/** Reads every recorded noise at hand, once; families are made from what is then there. */
export function loadNoises(): Promise<void> {
  return (loading ??= (async () => {
    for (const source of Object.values(NOISE_SOURCES).filter(noiseSourceInstalled))
      for (const kind of ['body', 'tap', 'rub'] as const)
        for (const name of source.names[kind]) {
          const noise = await source.read(name);
          shelf(source.side, kind).push(noise);
          if (source.side === 'fit') shelf('more', kind).push(noise);
        }
  })());
}

/** What precedes the blow in a recording: −30 dB under its peak. */
const STARTS_AT = 10 ** (-30 / 20);
const LOUDEST_SEC = 0.02;
/** Bodies and taps die away as a damped string instrument's do; what is rubbed lasts as it was recorded. */
type Range = Readonly<Record<NoiseKind, readonly [number, number]>>;
const DIES: Range = { body: [0.015, 0.07], tap: [0.004, 0.03], rub: [0.08, 0.3] };
const SPEED: Range = { body: [0.7, 1.5], tap: [0.7, 1.4], rub: [0.6, 1.3] };
const LOW_PASS_HZ: Range = { body: [400, 4000], tap: [2500, 15_000], rub: [1500, 12_000] };
const LONGEST_SEC = 0.7;

/**
 * One recorded noise, its speed, brightness and decay varied; it starts at once.
 * @returns mono at `sampleRate`, RMS of its loudest 20 ms 1
 * @throws TypeError before {@link loadNoises}, and where the packages are not installed
 */
export function recordedNoise(
  side: NoiseSide,
  kind: NoiseKind,
  sampleRate: number,
  random: Random,
): Float32Array {
  const there = shelf(side, kind);
  if (there.length === 0) throw new TypeError('no recorded noises are loaded: call loadNoises first');
  const chosen = random.pick(there);
  const ratio = (random.between(...SPEED[kind]) * chosen.sampleRate) / sampleRate;
  const whole = resample(chosen.pcm, ratio, Math.round(2 * LONGEST_SEC * sampleRate));
  const peak = whole.reduce((top, x) => Math.max(top, Math.abs(x)), 0);
  const start = whole.findIndex((x) => Math.abs(x) >= STARTS_AT * peak);
  const out = whole.slice(Math.max(0, start), start + Math.round(LONGEST_SEC * sampleRate));
  lowPassOnce(out, random.between(...LOW_PASS_HZ[kind]), sampleRate);
  const dies = random.between(...DIES[kind]) * sampleRate;
  for (let i = 0; i < out.length; i++) out[i]! *= Math.exp(-i / dies);
  return loudestTo1(out, Math.round(LOUDEST_SEC * sampleRate));
}

function loudestTo1(pcm: Float32Array, window: number): Float32Array {
  let sum = 0;
  let top = 0;
  for (let i = 0; i < pcm.length; i++) {
    sum += pcm[i]! ** 2 - (i >= window ? pcm[i - window]! ** 2 : 0);
    top = Math.max(top, sum);
  }
  const gain = 1 / Math.max(1e-9, Math.sqrt(top / window));
  for (let i = 0; i < pcm.length; i++) pcm[i]! *= gain;
  return pcm;
}
