import { AXIS_BINS, AXIS_FROM_HZ, BIN_CENTS, HIGHEST, LOWEST, PARTIALS } from './constants.ts';
import type { Column } from './dictionary.ts';
import { STEP_HZ } from './strumSpectrum.ts';
import type { StrumSpectrum } from './strumSpectrum.ts';

/** How loud each note must be so that the dictionary explains the strum. */
export interface Gains {
  /** dB of each note of the dictionary, −200 where nothing was fitted. */
  readonly db: Float64Array;
  /** Amplitude of each note's fitted partials, note after note, `PARTIALS` each. */
  readonly partials: Float64Array;
  /** Share, 0…1, of what stands out of the floor that the notes do not explain. */
  readonly unexplained: number;
}

/** Sixty multiplicative steps: the gains that matter then move by under 0.1 dB a step (tried with 200). */
const STEPS = 60;
/**
 * Notes not asked for pay this much more for what they explain. Without it D♯3-A♯3-D♯4-G4 is explained as one D♯2, whose
 * partials hold them all.
 */
const SHY = 1.3;
/** The floor's amplitude, and half as much again, is noise. */
const OVER_FLOOR = 1.5;

/** The strum's amplitude on the fit's axis, moved by its tuning: the largest within half a bin, less the floor. */
export function onAxis(spectrum: StrumSpectrum, tuningCents: number): Float64Array {
  const { power, floorDb } = spectrum;
  const out = new Float64Array(AXIS_BINS);
  for (let b = 0; b < AXIS_BINS; b++) {
    const at = AXIS_FROM_HZ * 2 ** ((b * BIN_CENTS + tuningCents) / 1200);
    const half = 2 ** (BIN_CENTS / 2400);
    const from = Math.ceil(at / half / STEP_HZ);
    const to = Math.floor((at * half) / STEP_HZ);
    const place = at / STEP_HZ;
    const k = Math.min(power.length - 2, Math.floor(place));
    let top = power[k]! + (power[k + 1]! - power[k]!) * (place - k);
    for (let i = from; i <= to && i < power.length; i++) top = Math.max(top, power[i]!);
    const floor = floorDb[Math.min(floorDb.length - 1, Math.round(place))]!;
    out[b] = Math.max(0, Math.sqrt(top) - OVER_FLOOR * 10 ** (floor / 20));
  }
  return out;
}

/**
 * Non-negative gains of every note from `lowest` on that explain `y`, by multiplicative steps that lessen the Kullback–Leibler
 * divergence (Lee and Seung 2001), with shyness for notes not asked for.
 */
export function fitGains(
  y: Float64Array,
  dictionary: readonly (readonly Column[])[],
  asked: (midi: number) => boolean,
  lowest: number,
): Gains {
  const columns: { column: Column; note: number; weight: number }[] = [];
  for (let midi = Math.max(LOWEST, lowest); midi <= HIGHEST; midi++)
    for (const column of dictionary[midi - LOWEST]!)
      columns.push({ column, note: midi - LOWEST, weight: asked(midi) ? 1 : SHY });
  const top = y.reduce((m, v) => Math.max(m, v), 0);
  const db = new Float64Array(HIGHEST - LOWEST + 1).fill(-200);
  const partials = new Float64Array((HIGHEST - LOWEST + 1) * PARTIALS);
  if (!(top > 0)) return { db, partials, unexplained: 0 };
  const tiny = top * 1e-7;
  const h = new Float64Array(columns.length).fill(top / columns.length);
  const model = new Float64Array(AXIS_BINS);
  const ratio = new Float64Array(AXIS_BINS);
  for (let step = 0; step < STEPS; step++) {
    model.fill(tiny);
    for (let j = 0; j < columns.length; j++) {
      const { bins, values } = columns[j]!.column;
      const gain = h[j]!;
      if (gain < tiny) continue;
      for (let i = 0; i < bins.length; i++) model[bins[i]!] = model[bins[i]!]! + gain * values[i]!;
    }
    for (let b = 0; b < AXIS_BINS; b++) ratio[b] = y[b]! / model[b]!;
    for (let j = 0; j < columns.length; j++) {
      const { column, weight } = columns[j]!;
      if (h[j]! < tiny) continue;
      const { bins, values } = column;
      let sum = 0;
      for (let i = 0; i < bins.length; i++) sum += ratio[bins[i]!]! * values[i]!;
      h[j] = (h[j]! * sum) / (weight * column.sum);
    }
  }
  const gains = new Float64Array(db.length);
  for (let j = 0; j < columns.length; j++) {
    const { column, note } = columns[j]!;
    gains[note] = gains[note]! + h[j]!;
    for (let n = 0; n < PARTIALS; n++)
      partials[note * PARTIALS + n] = partials[note * PARTIALS + n]! + h[j]! * column.amplitude[n]!;
  }
  for (let i = 0; i < db.length; i++) db[i] = gains[i]! > tiny ? 20 * Math.log10(gains[i]!) : -200;
  return { db, partials, unexplained: unexplainedOf(y, columns, h) };
}

function unexplainedOf(
  y: Float64Array,
  columns: readonly { readonly column: Column }[],
  h: Float64Array,
): number {
  const left = y.slice();
  columns.forEach(({ column: { bins, values } }, j) => {
    for (let i = 0; i < bins.length; i++) left[bins[i]!] = left[bins[i]!]! - h[j]! * values[i]!;
  });
  let over = 0;
  let all = 0;
  for (let b = 0; b < y.length; b++) {
    all += y[b]!;
    over += Math.max(0, left[b]!);
  }
  return over / all;
}
