import { makeStrum, playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import type { Fault, StrumOrder } from '../../../audio-fixtures/chords/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { resample } from '../../../audio-fixtures/resample.ts';
import {
  answerChords,
  createLiveChords,
  createLiveEar,
  hearStrums,
  judgeStrum,
} from '../../../src/dsp/index.ts';
import type { HeardStrum } from '../../../src/dsp/index.ts';
import { QUALITIES } from '../../../src/music/chords/index.ts';
import type { ChordVerdict } from '../../../src/music/chords/index.ts';
import { head, line, share } from './report.ts';

/** What the large table does not hold: guitars tuned far off, chords broken slowly, answers while a stroke rings. */

type Said = ChordVerdict | 'not found';

function near(strums: readonly HeardStrum[], atSec: number): HeardStrum | undefined {
  const off = (s: HeardStrum): number => Math.abs(s.firstSec - atSec);
  const [best] = [...strums].sort((a, b) => off(a) - off(b));
  return best && off(best) < 0.08 ? best : undefined;
}

const OFF_CENTS = [-50, -45, -40, 40, 45, 50] as const;
const CLASS_FAULTS: readonly Fault[] = [
  'third to fourth',
  'major for minor',
  'no third',
  'fret off',
  'muted',
];

/** Clean strums read faster or slower: the whole guitar so many cents off. */
export function tunedTable(orders: readonly StrumOrder[]): string[] {
  const rows = orders.flatMap((order, i) => {
    if (order.effect !== 'clean') return [];
    const right = order.fault === 'right';
    if (!right && !CLASS_FAULTS.includes(order.fault)) return [];
    const made = makeStrum(order);
    if (!made) return [];
    const cents = OFF_CENTS[i % OFF_CENTS.length]!;
    const speed = 2 ** (cents / 1200);
    const strum = near(hearStrums(resample(made.signal, speed), RATE), made.firstSec / speed);
    const lowest = Math.min(...made.chord.tuning);
    const said: Said = strum
      ? judgeStrum(strum, { shapes: [made.asked] }, { lowest, driven: false }).verdict
      : 'not found';
    return [{ cents, right, said }];
  });
  const of = (own: typeof rows, said: Said): string =>
    share(own.filter((row) => row.said === said).length, own.length);
  const out = [
    '',
    '### The whole guitar 40 to 50 cents off (clean strums)',
    '',
    ...head(['cents', 'right', 'accused', "can't tell", 'class faults', 'caught', 'passed']),
  ];
  for (const cents of [...OFF_CENTS, 'all'] as const) {
    const own = rows.filter((row) => cents === 'all' || row.cents === cents);
    const [right, faulty] = [own.filter((r) => r.right), own.filter((r) => !r.right)];
    out.push(
      line([
        cents,
        right.length,
        of(right, 'no'),
        of(right, 'cannot-tell'),
        faulty.length,
        of(faulty, 'no'),
        of(faulty, 'yes'),
      ]),
    );
  }
  return out;
}

const GAPS_SEC = [0.12, 0.2, 0.3, 0.45] as const;

/** Chords whose strings are struck one after another and left ringing: right ones, and with a third a semitone off. */
export function brokenTable(orders: readonly StrumOrder[]): string[] {
  const out = [
    '',
    '### Broken slowly and left ringing',
    '',
    ...head([
      's a string',
      'right',
      'told right',
      'accused',
      'as more than one stroke',
      'third off',
      'told right',
    ]),
  ];
  for (const gap of GAPS_SEC) {
    let [right, yes, no, more, wrong, passed] = [0, 0, 0, 0, 0, 0];
    for (const order of orders) {
      if (order.fault !== 'right' || order.kind === 'double stop') continue;
      const made = makeStrum(order);
      const interval = made?.chord.third;
      if (!made || typeof interval !== 'number' || made.asked.length < 3) continue;
      const lowest = Math.min(...made.chord.tuning);
      const third = (made.chord.root + interval) % 12;
      const off = made.asked.map((midi) => (midi % 12 === third ? midi + 1 : midi));
      for (const notes of [made.asked, off]) {
        const end = 0.4 + notes.length * gap + 1.6;
        const strums = notes.map((midi, i) => ({
          notes: [midi],
          atSec: 0.4 + i * gap,
          untilSec: end - 0.1,
        }));
        const pcm = playChords(order.bank, strums, { durationSec: end, seed: order.seed });
        const answers = answerChords(
          hearStrums(pcm, RATE),
          [{ chord: { shapes: [made.asked] }, fromSec: 0, toSec: Infinity }],
          { lowest, driven: false },
        );
        const said = answers.map(({ as }) => as.get(0)?.verdict);
        if (notes === off) {
          if (off.join() === made.asked.join()) continue;
          wrong++;
          if (said.includes('yes')) passed++;
          continue;
        }
        right++;
        if (said.includes('yes')) yes++;
        else if (said.includes('no')) no++;
        if (answers.length > 1) more++;
      }
    }
    out.push(
      line([
        gap,
        right,
        share(yes, right),
        share(no, right),
        share(more, right),
        wrong,
        share(passed, wrong),
      ]),
    );
  }
  return out;
}

/** Strokes answered while they ring: the same verdict as of the whole strum? After how much sound, and how much work? */
export function liveTable(orders: readonly StrumOrder[]): string[] {
  let [told, same, untold] = [0, 0, 0];
  const soundMs: number[] = [];
  const workMs: number[] = [];
  for (const order of orders) {
    const made = makeStrum(order);
    if (!made) continue;
    const firstSec = made.firstSec / made.speed;
    const lowest = Math.min(...made.chord.tuning);
    const chord = { shapes: [made.asked] };
    const whole = near(hearStrums(made.signal, RATE), firstSec);
    if (!whole) continue;
    const { verdict } = judgeStrum(whole, chord, { lowest });
    const ear = createLiveEar({ sampleRate: RATE, instrument: 'guitar' });
    const live = createLiveChords(RATE, [{ chord, fromSample: 0, toSample: Infinity }], { lowest });
    let heard: ChordVerdict | null = null;
    for (let at = 0; at < made.signal.length; at += 512) {
      const block = made.signal.subarray(at, at + 512);
      for (const event of ear.push(block)) if (event.type === 'onset') live.attack(event.atSample);
      const before = process.cpuUsage();
      const [one] = live.push(block);
      const { user, system } = process.cpuUsage(before);
      if (!one || Math.abs(one.atSample / RATE - firstSec) > 0.15) continue;
      heard = one.judged.verdict;
      soundMs.push(1000 * ((at + 512) / RATE - firstSec));
      workMs.push((user + system) / 1000);
    }
    if (heard === null) untold++;
    else {
      told++;
      if (heard === verdict) same++;
    }
  }
  const at = (values: number[], p: number): string =>
    (values.sort((a, b) => a - b)[Math.floor(p * (values.length - 1))] ?? NaN).toFixed(0);
  return [
    '',
    '### Told while it rings (live), without overdrive',
    '',
    ...head([
      'strums',
      'told',
      'verdict as of the whole strum',
      'sound after the first string, ms: median, 95 %',
      'CPU ms: median, 95 %',
    ]),
    line([
      told + untold,
      share(told, told + untold),
      share(same, told),
      `${at(soundMs, 0.5)}, ${at(soundMs, 0.95)}`,
      `${at(workMs, 0.5)}, ${at(workMs, 0.95)}`,
    ]),
  ];
}

/**
 * Right strums asked for by every name of mir_eval 0.8.2's vocabulary (`mir_eval.chord.QUALITIES` on twelve roots, as
 * tests/music/chords/mir-eval.test.ts has them): names of the same tones are one.
 */
export function vocabularyTable(orders: readonly StrumOrder[]): string[] {
  const names = QUALITIES.filter(({ id }) => !NOT_IN_MIR_EVAL.includes(id)).flatMap(({ intervals }) =>
    Array.from({ length: 12 }, (_, root) => tones(intervals.map((i) => root + i))),
  );
  const all = [...new Set(names)];
  const own = { yes: 0, 'cannot-tell': 0, no: 0 };
  const others = { yes: 0, 'cannot-tell': 0, no: 0 };
  let strums = 0;
  for (const order of orders) {
    if (order.fault !== 'right') continue;
    const made = makeStrum(order);
    const strum = made && near(hearStrums(made.signal, RATE), made.firstSec / made.speed);
    if (!strum) continue;
    const sounds = tones(made.asked);
    if (!all.includes(sounds)) continue;
    strums++;
    const lowest = Math.min(...made.chord.tuning);
    for (const name of all) {
      const classes = name.split(' ').map(Number);
      const { verdict } = judgeStrum(strum, { classes }, { lowest, driven: false });
      (name === sounds ? own : others)[verdict]++;
    }
  }
  const count = strums * (all.length - 1);
  return [
    '',
    `### By name: ${all.length} names of mir_eval's vocabulary asked of each strum`,
    '',
    ...head(['', 'asked', 'yes', "can't tell", 'no']),
    line([
      'its own name',
      strums,
      ...(['yes', 'cannot-tell', 'no'] as const).map((v) => share(own[v], strums)),
    ]),
    line([
      'any other',
      count,
      ...(['yes', 'cannot-tell', 'no'] as const).map((v) => share(others[v], count)),
    ]),
  ];
}

const NOT_IN_MIR_EVAL: readonly string[] = ['suspended seventh', 'added ninth'];
const tones = (notes: readonly number[]): string =>
  [...new Set(notes.map((note) => note % 12))].sort((a, b) => a - b).join(' ');

/** The same set for every run of a table: so many orders with these effects. */
export function firstOf(orders: readonly StrumOrder[], count: number, seed: number): StrumOrder[] {
  const random = makeRandom(seed);
  const left = [...orders];
  const out: StrumOrder[] = [];
  while (out.length < count && left.length > 0)
    out.push(left.splice(random.whole(0, left.length - 1), 1)[0]!);
  return out;
}
