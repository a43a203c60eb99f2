import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Metre, PracticeTest } from '../../src/music/score.ts';
import {
  LEVELS,
  GENERATOR_VERSION,
  METRES,
  difficulty,
  makeTest,
  melodyStock,
  rhythmStock,
} from '../../src/tests-engine/material/index.ts';
import { hasFfmpeg } from '../support/ebur128.ts';
import { figuresOf } from './figures.ts';
import { guess } from './material/guess.ts';
import { harmony } from './material/harmony.ts';
import { heard } from './material/heard.ts';
import { keptPositions, places } from './material/places.ts';
import { targets } from './material/targets.ts';
import { sound } from './material/sound.ts';
import { type MeasuredNote, measure } from '../../src/tests-engine/material/difficulty/difficulty.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Speed of the generator, the ladder's difficulty with its overlaps, the stocks, harmony, places, lengths and colour,
 * what can be guessed of a question, the phrase over its backing, and the Spearman correlation
 * of difficulty with the mean grade of each pattern of a folder of graded takes.
 *
 *   npm run bench:material -- [--from SEED] [--write] [folder with rhythm-takes.jsonl and melody-takes.jsonl]
 *
 * Harmony, places, guessers and the phrase over its backing are drawn from SEED on: by default from the day's own seeds,
 * which nothing was tuned on. At the end every figure that is asked for stands beside what is to be reached.
 */

figuresOf('material', 'bench:material');
const { values: given, positionals } = parseArgs({
  options: { from: { type: 'string' } },
  allowPositionals: true,
});
/** Days since 1970 times a prime: another million seeds every day, the same all day. */
const FRESH =
  given.from === undefined ? (Math.floor(Date.now() / 86_400_000) * 104_729) >>> 0 : Number(given.from);
if (!Number.isInteger(FRESH) || FRESH < 0 || FRESH > 0xf0000000)
  throw new RangeError(`--from takes a seed, a whole number from 0 to ${0xf0000000}, got ${given.from}`);

const TESTS = 10_000;
const cpuMs = (): number => process.cpuUsage().user / 1000;

/** Mean difficulty of each level, and the largest share of turned pairs of neighbours. */
function ladder(kind: PracticeTest['kind']): { means: readonly number[]; turned: number } {
  console.log(
    `\n${kind}: level  first test ms  1,000/s  tests/s   difficulty mean  p5    p50   p95   harder than the next level   (${TESTS} seeds a level)`,
  );
  const levels = LEVELS.map((_, i) => {
    const make = (seed: number): PracticeTest =>
      makeTest({ kind, level: i + 1, seed, instrument: seed % 2 ? 'bass' : 'guitar' });
    let start = cpuMs();
    make(0);
    const first = cpuMs() - start;
    for (let seed = 1; seed < 1000; seed++) make(seed);
    // What `twobar make --count 1000` gets: the level's stock is built within it.
    const thousand = 1e6 / (cpuMs() - start);
    start = cpuMs();
    const tests = Array.from({ length: TESTS }, (_, seed) => make(seed));
    const rate = (TESTS / (cpuMs() - start)) * 1000;
    const values = tests.map((t) => difficulty(t.phrase, t.key, t.tempoBpm)).sort((a, b) => a - b);
    return { first, thousand, rate, values };
  });
  const means: number[] = [];
  let most = 0;
  levels.forEach(({ first, thousand, rate, values }, i) => {
    const at = (share: number): string => values[Math.floor(share * (TESTS - 1))]!.toFixed(1).padStart(5);
    const next = levels[i + 1]?.values;
    const turned = next ? turnedPairs(values, next) : null;
    most = Math.max(most, turned ?? 0);
    const mean = values.reduce((sum, d) => sum + d, 0) / TESTS;
    means.push(mean);
    console.log(
      `        ${String(i + 1).padStart(4)} ${first.toFixed(0).padStart(12)} ${thousand.toFixed(0).padStart(8)} ${rate.toFixed(0).padStart(10)} ${mean.toFixed(1).padStart(15)}   ${at(0.05)} ${at(0.5)} ${at(0.95)}   ${turned === null ? '' : `${(100 * turned).toFixed(2)} %`}`,
    );
  });
  return { means, turned: most };
}

/** Share of pairs in which the first is the larger; both sorted. */
function turnedPairs(easy: readonly number[], hard: readonly number[]): number {
  let [below, turned] = [0, 0];
  for (const d of easy) {
    while (below < hard.length && hard[below]! < d) below++;
    turned += below;
  }
  return turned / (easy.length * hard.length);
}

function stocks(): void {
  console.log('\nstock     rhythms  melodies');
  for (const [i, level] of LEVELS.entries())
    for (const at of level.metres) {
      const request = {
        level,
        at,
        strings: [40, 45, 50, 55, 59, 64],
        walk: 0,
        tempoBpm: 80,
        asked: null,
        generator: GENERATOR_VERSION,
      };
      console.log(
        `${String(i + 1).padStart(2)} ${at.metre.padEnd(5)} ${String(rhythmStock(level, at).rhythms.length).padStart(7)} ${String(melodyStock(request)).padStart(9)}`,
      );
    }
}

/** Ranks with ties shared. */
function ranks(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return values.map((value) => (sorted.indexOf(value) + sorted.lastIndexOf(value)) / 2);
}
function spearman(a: readonly number[], b: readonly number[]): number {
  const [x, y] = [ranks(a), ranks(b)];
  const mean = (n: readonly number[]): number => n.reduce((sum, value) => sum + value, 0) / n.length;
  const [mx, my] = [mean(x), mean(y)];
  const dot = (p: readonly number[], mp: number, q: readonly number[], mq: number): number =>
    p.reduce((sum, value, i) => sum + (value - mp) * (q[i]! - mq), 0);
  return dot(x, mx, y, my) / Math.sqrt(dot(x, mx, x, mx) * dot(y, my, y, my));
}
/** 95 % interval by Fisher's z with the variance for ranks, 1.06 / (n − 3) (Fieller et al. 1957). */
function interval(rho: number, n: number): string {
  const half = 1.96 * Math.sqrt(1.06 / (n - 3));
  const z = Math.atanh(rho);
  return `${Math.tanh(z - half).toFixed(2)}…${Math.tanh(z + half).toFixed(2)}`;
}

interface Take {
  readonly pattern?: string;
  readonly melody?: string;
  readonly target: readonly (number | { onsetSec: number; durationSec: number; midi: number })[];
  readonly grades: readonly number[];
}

/** Target times are seconds at a crotchet of half a second: snapped to semiquavers, in 4/4. */
function notesOf(take: Take): MeasuredNote[] {
  return take.target.map((note) => {
    const at = typeof note === 'number' ? note : note.onsetSec;
    const lasts = typeof note === 'number' ? 0.25 : note.durationSec;
    const offset = typeof note === 'number' ? 0 : note.midi;
    const snap = (seconds: number): number => Math.round((seconds / 0.5) * 4) * 120;
    return { startTicks: snap(at), durationTicks: Math.max(120, snap(lasts)), offset };
  });
}

function validity(folder: string): void {
  for (const kind of ['rhythm', 'melody'] as const) {
    const file = join(folder, `${kind}-takes.jsonl`);
    if (!existsSync(file)) throw new RangeError(`no ${file}`);
    const grades = new Map<string, { take: Take; all: number[] }>();
    for (const line of readFileSync(file, 'utf8').split('\n').filter(Boolean)) {
      const take = JSON.parse(line) as Take;
      const name = take.pattern ?? take.melody!;
      const entry = grades.get(name) ?? { take, all: [] };
      entry.all.push(take.grades.reduce((sum, grade) => sum + grade, 0) / take.grades.length);
      grades.set(name, entry);
    }
    const metre: Metre = METRES['4/4'];
    const rows = [...grades.values()].map(({ take, all }) => {
      const notes = notesOf(take);
      const last = notes.at(-1)!;
      const bars = Math.max(1, Math.ceil((last.startTicks + last.durationTicks) / 1920));
      // The key is not given: the tonic is taken to be the last note, the mode from the third that occurs.
      const tonic = last.offset;
      const minor = notes.some((note) => (((note.offset - tonic) % 12) + 12) % 12 === 3);
      const moved = notes.map((note) => ({ ...note, offset: note.offset - tonic }));
      return {
        hard: measure(moved, { metre, bars }, minor, 120).total,
        grade: all.reduce((sum, grade) => sum + grade, 0) / all.length,
        takes: all.length,
      };
    });
    for (const least of [1, 3]) {
      const kept = rows.filter(({ takes }) => takes >= least);
      const rho = spearman(
        kept.map(({ hard }) => hard),
        kept.map(({ grade }) => grade),
      );
      console.log(
        `${kind}: Spearman of difficulty and mean grade over ${kept.length} patterns with ≥ ${least} takes: ${rho.toFixed(2)} (95 % ${interval(rho, kept.length)}); negative = harder patterns get lower grades`,
      );
    }
  }
}

console.log(`2048-point complex radix-2 FFT: ${fftMicroseconds().toFixed(0)} µs; times below are CPU times`);
const rungs = { melody: ladder('melody'), rhythm: ladder('rhythm') };
stocks();
console.log(`\nfresh seeds from ${FRESH}`);
const chords = harmony(200, FRESH);
const where = places(600, FRESH);
keptPositions(200, FRESH);
const guessed = guess(5000, FRESH);
const [folder] = positionals;
if (folder) validity(folder);
else console.log('\nno folder of graded takes given: the comparison with grades is left out');
const over = await heard(12, FRESH);
if (hasFfmpeg()) await sound();
else console.log('\nno ffmpeg: loudness and clashes are left out');
targets({ rungs, chords, where, guessed, over });
