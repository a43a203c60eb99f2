import { createRealFft, hann } from '../../dsp/index.ts';

const SIZE = 2048;
/** Frames averaged before anything is said: 1.4 s at 48 kHz, enough to steady a noise floor to 1 dB. */
const FRAMES = 32;
/**
 * A telephone codec ends at 4 or 8 kHz by a steep filter: from just under the edge to just over it the density
 * falls by far more than any instrument, room or loudspeaker does (they fall less than 12 dB per half octave).
 */
const EDGES: readonly {
  readonly below: readonly [number, number];
  readonly above: readonly [number, number];
}[] = [
  { below: [2700, 3300], above: [4300, 5500] },
  { below: [6000, 7200], above: [8300, 10_000] },
];
const DROP_DB = 25;
/** Under this density everything is quantising noise and shows no edge: −130 dBFS a bin. */
const FLOOR = 1e-13;

export type Bandwidth = 'unknown' | 'full' | 'narrow';

/** Watches a capture for telephone quality: nothing above 4 or 8 kHz though there is sound below. */
export interface BandwidthWatch {
  /** What is known so far; it stays with the first answer. */
  push(block: Float32Array): Bandwidth;
}

export function createBandwidthWatch(sampleRate: number): BandwidthWatch {
  const fft = createRealFft(SIZE);
  const window = hann(SIZE);
  const density = new Float64Array(SIZE / 2 + 1);
  let filled = 0;
  let frames = 0;
  // A capture that runs at a telephone's rate has no need of looking.
  let known: Bandwidth = sampleRate <= 16_000 ? 'narrow' : 'unknown';

  function add(): void {
    for (let i = 0; i < SIZE; i++) fft.input[i]! *= window[i]!;
    fft.forward();
    for (let k = 0; k < density.length; k++)
      density[k]! += (fft.spectrum[2 * k]! ** 2 + fft.spectrum[2 * k + 1]! ** 2) / SIZE ** 2;
    frames++;
  }
  function mean([low, high]: readonly [number, number]): number {
    const from = Math.ceil((low * SIZE) / sampleRate);
    const to = Math.floor((high * SIZE) / sampleRate);
    let sum = 0;
    for (let k = from; k <= to; k++) sum += density[k]!;
    return sum / (to - from + 1) / frames;
  }
  return {
    push(block) {
      if (known !== 'unknown') return known;
      for (const value of block) {
        fft.input[filled++] = value;
        if (filled < SIZE) continue;
        filled = 0;
        add();
        if (frames < FRAMES) continue;
        known = judge(EDGES.map(({ below, above }) => [mean(below), mean(above)]));
        frames = 0;
        density.fill(0);
        if (known !== 'unknown') break;
      }
      return known;
    },
  };
}

function judge(edges: readonly (readonly number[])[]): Bandwidth {
  const heard = edges.filter(([below]) => below! > FLOOR);
  if (heard.some(([below, above]) => 10 * Math.log10(below! / Math.max(above!, 1e-20)) > DROP_DB))
    return 'narrow';
  return heard.length === edges.length ? 'full' : 'unknown';
}
