import { ms, WORK_RATE } from '../signal/prepared.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import type { RealFft } from '../spectrum/realFft.ts';
import { createSimd, fillTables, tableSizes } from '../simd/instance.ts';
import type { Simd } from '../simd/instance.ts';
import { LOWEST, PITCHES } from './salience.ts';

/** Zero-padded length: 5.4 Hz a bin. */
const SIZE = 8192;
const LONGEST = Math.round(ms(140));
export const PARTIALS = 12;
const PARTIAL_DECAY = 0.86;
/** Weight of what lies half-way between partials: an octave too low pays for every other tooth. */
const HALFWAY = 0.4;
/** A partial is looked for within ±1.2 % (20 cents): stretched strings and slight detuning. */
const TOLERANCE = 0.012;

/**
 * Spectrum of a short piece. What is read of it are square roots of magnitudes, (power^½ / scale)^½; they are taken
 * of what is asked for alone, as a root grows with what it is taken of.
 */
export interface ShortSpectrum {
  /** Squared magnitude of each bin. */
  readonly power: Float32Array | Float64Array;
  /** Sum of the window. */
  readonly scale: number;
}

/** A piece of the take: samples from … to, at most 140 ms. */
export type Piece = readonly [from: number, to: number];

/** Two pieces, before and after an attack; and their spectra. */
export interface Pieces {
  readonly before: Piece;
  readonly after: Piece;
}
export interface Around {
  readonly before: ShortSpectrum;
  readonly after: ShortSpectrum;
}

/** Spectra of short pieces of the take; arrays are made once. */
export interface Spectra {
  /**
   * Spectra of pieces under Hann windows, one pair after another, each kept until the next is asked for. NaN throughout
   * where a piece begins past the end: what comes there is not known.
   */
  of(samples: Float32Array, pairs: readonly Pieces[]): Iterable<Around>;
}

/** A window and the sum of it. */
interface Shape {
  readonly taper: Float64Array;
  readonly scale: number;
}
/** The last windows, as most pieces are as long as one of them. */
const shapes = new Map<number, Shape>();
const SHAPES_KEPT = 8;
function shapeOf(length: number): Shape {
  const known = shapes.get(length);
  if (known) return known;
  if (shapes.size === SHAPES_KEPT) shapes.clear();
  const taper = centredHann(length);
  const made = { taper, scale: sumOf(taper) };
  shapes.set(length, made);
  return made;
}

/** What was laid: how many samples, 0 where the piece begins past the end, and the sum of the window. */
interface Laid {
  readonly length: number;
  readonly scale: number;
}

/** Writes samples times window. */
function lay(into: Float32Array | Float64Array, samples: Float32Array, [from, to]: Piece): Laid {
  const start = Math.max(0, Math.round(from));
  const length = Math.max(1, Math.min(LONGEST, Math.round(to) - start, samples.length - start));
  const { taper, scale } = shapeOf(length);
  if (start >= samples.length) return { length: 0, scale };
  for (let i = 0; i < length; i++) into[i] = samples[start + i]! * taper[i]!;
  return { length, scale };
}

/** In plain code, with 64-bit sums. */
export function plainSpectra(): Spectra {
  const fft: RealFft = createRealFft(SIZE);
  const powers = [new Float64Array(fft.bins), new Float64Array(fft.bins)] as const;
  const one = (place: 0 | 1, samples: Float32Array, piece: Piece): ShortSpectrum => {
    const power = powers[place];
    const { length, scale } = lay(fft.input, samples, piece);
    fft.input.fill(0, length);
    if (length > 0) fft.powers(power, fft.bins);
    else power.fill(NaN);
    return { power, scale };
  };
  return {
    *of(samples, pairs) {
      for (const { before, after } of pairs)
        yield { before: one(0, samples, before), after: one(1, samples, after) };
    },
  };
}

/** Pieces that are transformed at once, two pairs. */
const TOGETHER = 4;
/** One for all takes: what stays in it is overwritten by every call. */
let transformer: Simd<keyof ReturnType<typeof tableSizes> | 'rows' | 'out'> | null | undefined;
function makeTransformer(): typeof transformer {
  const n = SIZE / 2;
  const made = createSimd({ ...tableSizes(n), rows: TOGETHER * SIZE, out: TOGETHER * (n + 1) });
  if (made) fillTables(made, n);
  return made;
}

/** Two pairs at once, in 32-bit sums (`simd/kernels`); null where that cannot be run. */
export function simdSpectra(): Spectra | null {
  transformer = transformer === undefined ? makeTransformer() : transformer;
  if (!transformer) return null;
  const { run, at, floats } = transformer;
  const n = SIZE / 2;
  const rows = Array.from({ length: TOGETHER }, (_, k) => floats.rows.subarray(k * SIZE, (k + 1) * SIZE));
  const outs = rows.map((_, k) => floats.out.subarray(k * (n + 1), (k + 1) * (n + 1)));
  const powers = rows.map(() => new Float32Array(n + 1));
  return {
    *of(samples, pairs) {
      for (let first = 0; first < pairs.length; first += TOGETHER / 2) {
        const pieces = pairs
          .slice(first, first + TOGETHER / 2)
          .flatMap(({ before, after }) => [before, after]);
        const laid = pieces.map((piece, k) => lay(rows[k]!, samples, piece));
        // They are read two samples at a time, and no further than the longest.
        const used = 2 * Math.ceil(Math.max(...laid.map(({ length }) => length)) / 2);
        rows.forEach((row, k) => row.fill(0, laid[k]?.length ?? 0, used));
        run.powerSpectra(
          at.rows,
          pieces.length,
          used,
          n,
          at.turns,
          at.halfTurns,
          at.places,
          at.z,
          at.bins,
          at.out,
        );
        const spectra = laid.map(({ length, scale }, k) => {
          const power = powers[k]!;
          if (length > 0) power.set(outs[k]!);
          else power.fill(NaN);
          return { power, scale };
        });
        for (let k = 0; k < spectra.length; k += 2) yield { before: spectra[k]!, after: spectra[k + 1]! };
      }
    },
  };
}

/** The faster of the two that runs here. */
export const createSpectra = (): Spectra => simdSpectra() ?? plainSpectra();

/** A Hann window without a zero, symmetrical. */
function centredHann(length: number): Float64Array<ArrayBuffer> {
  const shape = new Float64Array(length);
  const turn = (2 * Math.PI) / length;
  for (let i = 0; i < length; i++) shape[i] = 0.5 - 0.5 * Math.cos(turn * (i + 0.5));
  return shape;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

const rooted = (power: number, scale: number): number => Math.sqrt(Math.sqrt(power) / scale);

/** The greatest root within ±1.2 % of a frequency given in bins; 0 beyond the spectrum. */
export function toothAt({ power, scale }: ShortSpectrum, bin: number): number {
  const from = Math.max(0, Math.round(bin * (1 - TOLERANCE)));
  const to = Math.round(bin * (1 + TOLERANCE));
  if (to >= power.length) return 0;
  let top = 0;
  for (let i = from; i <= to; i++) if (power[i]! > top) top = power[i]!;
  return rooted(top, scale);
}

/** The greatest root of a whole spectrum; NaN where nothing is known. */
export function highestTooth({ power, scale }: ShortSpectrum): number {
  let top = 0;
  for (let i = 0; i < power.length; i++) if (!(power[i]! <= top)) top = power[i]!;
  return rooted(top, scale);
}

/** Frequency of a MIDI number in bins of {@link Spectra}. */
export const binOf = (midi: number): number => ((440 * 2 ** ((midi - 69) / 12)) / WORK_RATE) * SIZE;

/**
 * How well a comb of 12 partials fits each semitone (in the manner of Klapuri, ISMIR 2006), over the best
 * semitone's score: `out[n]` for MIDI {@link LOWEST} + n, at most 1.
 */
export function combScores(spectrum: ShortSpectrum, out: Float64Array): Float64Array {
  let best = 1e-12;
  for (let n = 0; n < PITCHES; n++) {
    const f0 = binOf(LOWEST + n);
    let score = 0;
    let weight = 1;
    for (let h = 1; h <= PARTIALS; h++) {
      score += weight * (toothAt(spectrum, h * f0) - HALFWAY * toothAt(spectrum, (h - 0.5) * f0));
      weight *= PARTIAL_DECAY;
    }
    out[n] = score;
    if (score > best) best = score;
  }
  for (let n = 0; n < PITCHES; n++) out[n] = out[n]! / best;
  return out;
}
