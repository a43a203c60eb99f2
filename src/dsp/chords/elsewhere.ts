import { HIGHEST, LOWEST, PARTIALS } from './constants.ts';
import type { Gains } from './gains.ts';
import { partialCount, partialHz } from './partials.ts';
import { WINDOW_BIN_HZ } from './strumSpectrum.ts';

/** Within so many cents two partials are one peak. */
const SAME_CENTS = 38;
/** Beyond it a neighbour still leaks through the window's main lobe. */
const LOBE_BINS = 2.2;

/** Every fitted partial, by rising frequency. */
export interface FittedPartials {
  readonly hz: Float64Array;
  readonly power: Float64Array;
  readonly note: Int32Array;
}

export function fittedPartials({ partials }: Gains, tuningCents: number): FittedPartials {
  const list: { hz: number; power: number; note: number }[] = [];
  for (let midi = LOWEST; midi <= HIGHEST; midi++)
    for (let n = 1; n <= partialCount[midi - LOWEST]!; n++) {
      const amplitude = partials[(midi - LOWEST) * PARTIALS + n - 1]!;
      if (amplitude > 0)
        list.push({ hz: partialHz(midi, n, tuningCents), power: amplitude ** 2, note: midi });
    }
  list.sort((a, b) => a.hz - b.hz);
  return {
    hz: Float64Array.from(list, (p) => p.hz),
    power: Float64Array.from(list, (p) => p.power),
    note: Int32Array.from(list, (p) => p.note),
  };
}

/** Power of a Hann window's main lobe `x` bins off its middle, re the middle. */
function lobePower(x: number): number {
  if (Math.abs(x) < 1e-6) return 1;
  if (Math.abs(Math.abs(x) - 1) < 1e-6) return 0.25;
  return (Math.sin(Math.PI * x) / (Math.PI * x * (1 - x * x))) ** 2;
}

/** Power that all notes but `midi` put at `hz`, by the fit. */
export function explainedElsewhere(fitted: FittedPartials, midi: number, hz: number): number {
  const same = hz * (2 ** (SAME_CENTS / 1200) - 1);
  const reach = Math.max(same, LOBE_BINS * WINDOW_BIN_HZ);
  let low = 0;
  let high = fitted.hz.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (fitted.hz[middle]! < hz - reach) low = middle + 1;
    else high = middle;
  }
  let sum = 0;
  for (let i = low; i < fitted.hz.length && fitted.hz[i]! <= hz + reach; i++) {
    if (fitted.note[i] === midi) continue;
    const off = Math.abs(fitted.hz[i]! - hz);
    sum += fitted.power[i]! * (off <= same ? 1 : lobePower(off / WINDOW_BIN_HZ));
  }
  return sum;
}
