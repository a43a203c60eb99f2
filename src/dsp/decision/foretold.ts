import { burg, carryOn } from '../signal/burg.ts';
import { inverseFilter } from '../signal/predictor.ts';
import { levelBetween, ms, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/**
 * What the sound before an attack foretells of the sound after it. A string that rings is foretold by a linear prediction for
 * tens of milliseconds: through a knock, which lies on top of it and dies, and not through a pluck, which stops it. The wave
 * under 2.4 kHz is carried on for up to 112 ms, from 3 ms before the attack to 3 ms before the next.
 *
 * `hold…`: in four windows of 20–34 ms, the share of the foretold wave that is there (1 goes on, 0 stopped; a window
 * without room says what the one before it does); `like…`: their correlation; `leftFirst`, `leftLast`: what is left when it
 * is taken away, over it; `leftFall`: how what is left dies; `ringShare`: the foretold wave over what sounds; `known`: how well
 * the past foretold itself; `room`: seconds up to the next attack; `tonal`, `repeat`, `repeatRise`: is what is left tonal, does it
 * repeat, and louder; `lateTonal` … the same of all that sounds from 24 ms on; `fade`, `fadeBright`: from the attack's loudest
 * to the end, in level and in that of the differentiated signal; `endLevel`; `lateKnown`, `lateStranger`: how well the past's
 * prediction fits the late sound, and less `known`. Levels are decibels over ten.
 */
export const FORETOLD = [
  'hold0',
  'hold1',
  'hold2',
  'hold3',
  'like0',
  'like1',
  'like2',
  'like3',
  'leftFirst',
  'leftLast',
  'leftFall',
  'ringShare',
  'known',
  'room',
  'tonal',
  'repeat',
  'repeatRise',
  'fade',
  'fadeBright',
  'endLevel',
  'lateTonal',
  'lateRepeat',
  'lateRepeatRise',
  'lateKnown',
  'lateStranger',
] as const;

/** After the attack, ms. */
const WINDOWS = [
  [6, 26],
  [26, 46],
  [46, 76],
  [76, 110],
] as const;
/** From half the working rate down to 5.5 kHz. */
const DOWN = 4;
const RATE = WORK_RATE / 2 / DOWN;
const low = (time: number): number => Math.round((time * RATE) / 1000);
/** Hann-windowed sinc, 2.4 kHz at half the working rate. */
const REACH = 24;
const LOW_PASS = (() => {
  const cut = 0.43 / DOWN;
  const taps = Float64Array.from({ length: 2 * REACH + 1 }, (_, i) => {
    const d = i - REACH;
    const sinc = d === 0 ? 2 * cut : Math.sin(2 * Math.PI * cut * d) / (Math.PI * d);
    return sinc * (0.5 + 0.5 * Math.cos((Math.PI * d) / (REACH + 1)));
  });
  const sum = taps.reduce((a, b) => a + b, 0);
  return taps.map((tap) => tap / sum);
})();

/** The prediction learns from so much at most and at least, and ends so long before the attack. */
const LEARNT = low(90);
const LEAST_LEARNT = low(28);
const GAP = low(3);
const FORETOLD_LENGTH = low(112);
const ORDER = 120;
/** Coefficients for each sample it learns from. */
const ORDER_SHARE = 0.42;
/** Tone is told by so few. */
const TONE_ORDER = 24;
/** Mean square added to powers: −70 dB. */
const FLOOR = 1e-7;
const LEAST_WINDOW = low(9);

/** @param at centre, half the working rate, of the sample with index `before` */
function lowered(x: Float32Array, at: number, before: number, count: number): Float64Array {
  const out = new Float64Array(count);
  const taps = LOW_PASS.length;
  const place = (i: number): number => at + (i - before) * DOWN - REACH;
  for (let i = 0; i < count; i++) {
    const from = place(i);
    if (from < 0 || from + taps > x.length) continue;
    if (i + 4 > count || place(i + 3) + taps > x.length) {
      let sum = 0;
      for (let k = 0; k < taps; k++) sum += LOW_PASS[k]! * x[from + k]!;
      out[i] = sum;
      continue;
    }
    // Four sums do not wait for one another's additions.
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let k = 0; k < taps; k++) {
      const tap = LOW_PASS[k]!;
      const j = from + k;
      a += tap * x[j]!;
      b += tap * x[j + DOWN]!;
      c += tap * x[j + 2 * DOWN]!;
      d += tap * x[j + 3 * DOWN]!;
    }
    out[i] = a;
    out[i + 1] = b;
    out[i + 2] = c;
    out[i + 3] = d;
    i += 3;
  }
  return out;
}

/** Sums of products of the later half with what came `lag` before, and of squares of that, for four lags from `lag` on. */
function fourLags(
  x: Float64Array,
  from: number,
  lag: number,
  dots: Float64Array,
  energies: Float64Array,
): void {
  let dot0 = 0;
  let dot1 = 0;
  let dot2 = 0;
  let dot3 = 0;
  let energy0 = LEAST_SQUARES;
  let energy1 = LEAST_SQUARES;
  let energy2 = LEAST_SQUARES;
  let energy3 = LEAST_SQUARES;
  // What lies before the signal is asked for by lags alone that nobody reads.
  let then1 = x[Math.max(0, from - lag - 1)]!;
  let then2 = x[Math.max(0, from - lag - 2)]!;
  let then3 = x[Math.max(0, from - lag - 3)]!;
  for (let i = from; i < x.length; i++) {
    const now = x[i]!;
    const then0 = x[i - lag]!;
    dot0 += now * then0;
    dot1 += now * then1;
    dot2 += now * then2;
    dot3 += now * then3;
    energy0 += then0 * then0;
    energy1 += then1 * then1;
    energy2 += then2 * then2;
    energy3 += then3 * then3;
    then3 = then2;
    then2 = then1;
    then1 = then0;
  }
  dots[0] = dot0;
  dots[1] = dot1;
  dots[2] = dot2;
  dots[3] = dot3;
  energies[0] = energy0;
  energies[1] = energy1;
  energies[2] = energy2;
  energies[3] = energy3;
}
const LEAST_SQUARES = 1e-9;
const dots = new Float64Array(4);
const energies = new Float64Array(4);

/** How like its later half is to what came before, at the best lag from 1.2 ms on, and how much louder. */
function repeats(x: Float64Array): [like: number, rise: number] {
  const n = Math.floor(x.length / 2);
  const from = x.length - n;
  let own = LEAST_SQUARES;
  for (let i = from; i < x.length; i++) own += x[i]! ** 2;
  let [best, rise] = [0, 0];
  for (let first = low(1.2); first <= from; first += 4) {
    fourLags(x, from, first, dots, energies);
    for (let k = 0; k < 4 && first + k <= from; k++) {
      const like = dots[k]! / Math.sqrt(own * energies[k]!);
      if (like <= best) continue;
      best = like;
      rise = Math.log10(own / energies[k]!);
    }
  }
  return [best, rise];
}

interface Held {
  readonly hold: number;
  readonly like: number;
  /** What is left over what was foretold, logarithm; and its mean square. */
  readonly left: number;
  readonly rest: number;
}
const NOT_HELD: Held = { hold: 1, like: 0, left: 0, rest: 0 };

/** Is what was foretold there, from `from` to `to`? */
function held(x: Float64Array, foretold: Float64Array, from: number, to: number): Held {
  let [xc, cc, xx, rr] = [0, 0, 0, 0];
  for (let i = from; i < to; i++) {
    const [is, due] = [x[i]!, foretold[i]!];
    xc += is * due;
    cc += due * due;
    xx += is * is;
    rr += (is - due) ** 2;
  }
  const floor = FLOOR * (to - from);
  return {
    hold: Math.max(-2, Math.min(3, xc / (cc + floor))),
    like: xc / Math.sqrt(xx * cc + floor ** 2),
    left: Math.log10((rr + floor) / (cc + floor)),
    rest: rr / (to - from),
  };
}

const tone = (x: Float64Array): number => burg(x, Math.min(TONE_ORDER, Math.floor(x.length / 3))).gain;

/** From the attack's loudest 10 ms to the last 22 before `end`, dB over ten; and the latter. */
function fading(sum: Float64Array, t: number, end: number): [fade: number, last: number] {
  let top = -99;
  for (let k = 0; k < 30; k += 5) top = Math.max(top, levelBetween(sum, t + ms(k), t + ms(k + 10)));
  const last = levelBetween(sum, t + end - ms(22), t + end);
  return [(last - top) / 10, last / 10];
}

/**
 * @param t attack, samples at the working rate @param last @param next the plucks before and after it; −Infinity and
 * Infinity where there is none. @returns as {@link FORETOLD}
 */
export function foretold(
  { half: x, energy, edges }: Prepared,
  t: number,
  { last, next }: { readonly last: number; readonly next: number },
): number[] {
  const at = Math.round(t / 2);
  const since = Math.floor((at - last / 2) / DOWN);
  const learnt = Math.max(LEAST_LEARNT, Math.min(LEARNT, since - GAP - low(3)));
  const end = Math.min(x.length, next / 2 - ms(3) / 2);
  const room = Math.min(FORETOLD_LENGTH, Math.floor((end - at) / DOWN));
  const zero = learnt + GAP;
  const wave = lowered(x, at, zero, zero + FORETOLD_LENGTH);
  const order = Math.min(ORDER, Math.floor(learnt * ORDER_SHARE));
  const { a, gain } = burg(wave.subarray(0, learnt), order);
  const due = wave.slice();
  carryOn(due, learnt, zero + room, a);

  const windows: Held[] = [];
  for (const [from, to] of WINDOWS) {
    const [start, stop] = [zero + low(from), Math.min(zero + low(to), zero + room)];
    windows.push(stop - start < LEAST_WINDOW ? (windows.at(-1) ?? NOT_HELD) : held(wave, due, start, stop));
  }
  const rest = wave.map((value, i) => value - due[i]!);
  const mean = (of: Float64Array, from: number, to: number): number => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += of[i]! ** 2;
    return sum / Math.max(1, to - from);
  };
  const early: [number, number] = [zero + low(6), Math.min(zero + low(46), zero + room)];
  const left = rest.subarray(zero + low(8), zero + Math.max(low(30), Math.min(room, low(80))));
  const lateFrom = zero + Math.min(low(24), Math.max(0, room - low(34)));
  const late = wave.subarray(lateFrom, Math.max(lateFrom + low(34), zero + room));
  let [missed, sounds] = [0, 0];
  const misses = inverseFilter(wave.subarray(lateFrom - order, lateFrom + late.length), a);
  for (let i = 0; i < late.length; i++) {
    const miss = misses[order + i]!;
    missed += miss * miss;
    sounds += late[i]! ** 2;
  }
  const lateKnown = Math.log10((sounds + FLOOR) / (missed + FLOOR));
  const until = Math.max(ms(34), Math.min(ms(110), next - ms(3) - t));
  const [fade, endLevel] = fading(energy, t, until);
  const [first, final] = [windows[0]!, windows[WINDOWS.length - 1]!];
  return [
    ...windows.map(({ hold }) => hold),
    ...windows.map(({ like }) => like),
    first.left,
    final.left,
    Math.log10((mean(rest, zero, zero + low(12)) + FLOOR) / (final.rest + FLOOR)),
    Math.log10((mean(due, ...early) + FLOOR) / (mean(wave, ...early) + FLOOR)),
    gain,
    Math.min(0.11, room / RATE),
    tone(left),
    ...repeats(left),
    fade,
    fading(edges, t, until)[0],
    endLevel,
    tone(late),
    ...repeats(late),
    lateKnown,
    lateKnown - gain,
  ];
}
