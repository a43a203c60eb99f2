import { phraseSet } from '../../audio-fixtures/index.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import type { Take } from '../../audio-fixtures/index.ts';
import type { Random } from '../../audio-fixtures/random.ts';
import { hearTake } from '../../src/dsp/index.ts';
import { checkStream } from '../../src/dsp/verdict/stream.ts';
import { matchNotes } from '../support/fixtures/note-metrics.ts';
import { STANDARD } from './ears/listener.ts';

/**
 * What becomes of 200 lost blocks of 1–12 ms in clean takes, half of them left as zeros, half cut out:
 *   npx tsx tests/bench/ears-losses.ts [SEED] [--counted | --long]
 * `--counted`: of blocks of 20–100 ms, all zeros, that the recorder has counted; `--long`: the same, told by nobody.
 */
const LOSSES = 200;
const words = process.argv.slice(2);
const COUNTED = words.includes('--counted');
const LONG = COUNTED || words.includes('--long');
const SEED = Number(words.find((word) => !word.startsWith('--')) ?? 7000);
const [LEAST_MS, MOST_MS] = LONG ? [20, 100] : [1, 12];
/** A false note is a loss's within so long of it, s: as far as onsets are matched. */
const NEAR_SEC = 0.05;
/** Two losses are so far apart, s. */
const APART_SEC = 0.3;

interface Lossy {
  readonly signal: Float32Array;
  readonly at: readonly { readonly sec: number; readonly cutSec: number; readonly lengthMs: number }[];
  readonly onsets: readonly { readonly onsetSec: number; readonly midi: number }[];
}

/** The take with `count` blocks lost between its first onset and its last note's end. */
function lose({ signal, sampleRate, truth }: Take, count: number, random: Random): Lossy {
  const places: number[] = [];
  const [first, last] = [truth[0]!.onsetSec, truth[truth.length - 1]!.offsetSec];
  while (places.length < count) {
    const at = random.between(first, last);
    if (places.every((other) => Math.abs(other - at) > APART_SEC)) places.push(at);
  }
  const kept: Float32Array[] = [];
  const cuts: { atSec: number; sec: number }[] = [];
  const at: Lossy['at'][number][] = [];
  let from = 0;
  for (const place of places.sort((a, b) => a - b)) {
    const lengthMs = random.between(LEAST_MS, MOST_MS);
    const start = Math.round(place * sampleRate);
    const length = Math.round((lengthMs / 1000) * sampleRate);
    const cut = !LONG && random.chance(0.5);
    kept.push(signal.subarray(from, start), new Float32Array(cut ? 0 : length));
    const before = cuts.reduce((sum, { sec }) => sum + sec, 0);
    at.push({ sec: place - before, cutSec: cut ? length / sampleRate : 0, lengthMs });
    if (cut) cuts.push({ atSec: place, sec: length / sampleRate });
    from = start + length;
  }
  kept.push(signal.subarray(from));
  const out = new Float32Array(kept.reduce((sum, part) => sum + part.length, 0));
  let filled = 0;
  for (const part of kept) {
    out.set(part, filled);
    filled += part.length;
  }
  const onsets = truth.map(({ onsetSec, midi }) => ({
    onsetSec: onsetSec - cuts.reduce((sum, { atSec, sec }) => sum + (atSec < onsetSec ? sec : 0), 0),
    midi,
  }));
  return { signal: out, at, onsets };
}

const listed = (words: ReadonlyMap<string, number>): string =>
  [...words].map(([word, n]) => `${word} ${n}`).join(', ');

const recipes = await phraseSet();
const sums = {
  laid: 0,
  found: 0,
  false: 0,
  extra: 0,
  cleanExtra: 0,
  missed: 0,
  cleanMissed: 0,
  notes: 0,
  cleanFound: 0,
};
const said = new Map<string, number>();
const saidOfClean = new Map<string, number>();
for (const [i, recipe] of recipes.entries()) {
  const take = recipe.make();
  const { sampleRate, instrument } = take;
  const options = { instrument, tuning: STANDARD[instrument] };
  const count = Math.floor(((i + 1) * LOSSES) / recipes.length) - Math.floor((i * LOSSES) / recipes.length);
  const lossy = lose(take, count, makeRandom(SEED + i));
  const missing = COUNTED
    ? lossy.at.map(({ sec, lengthMs }) => ({
        at: Math.round(sec * sampleRate),
        length: Math.round((lengthMs / 1000) * sampleRate),
      }))
    : [];
  const heard = (signal: Float32Array, truth: Lossy['onsets']) => {
    const { notes, heard: verdict } = hearTake(signal, sampleRate, { ...options, missing });
    const matched = matchNotes(truth, notes, NEAR_SEC, Infinity);
    const taken = new Set(matched);
    const extra = notes.filter((_, h) => !taken.has(h)).map(({ onsetSec }) => onsetSec as number);
    const missed = truth.filter((_, k) => matched[k]! < 0).map(({ onsetSec }) => onsetSec);
    return { extra, missed, word: verdict.reason ?? verdict.verdict };
  };
  const clean = heard(take.signal, take.truth);
  const after = heard(lossy.signal, lossy.onsets);
  const found = checkStream(lossy.signal, sampleRate, missing).losses.map((loss) => loss.at / sampleRate);
  sums.laid += lossy.at.length;
  for (const { sec, cutSec, lengthMs } of lossy.at) {
    const [isTold, isHeard] = [
      found.some((t) => Math.abs(t - sec) < 0.002),
      after.extra.some((t) => Math.abs(t - sec) < NEAR_SEC),
    ];
    if (isTold) sums.found++;
    if (!isHeard) continue;
    sums.false++;
    const kind = cutSec > 0 ? 'cut out' : 'zeros';
    console.log(
      `${recipe.id} ${sec.toFixed(3)} s: ${lengthMs.toFixed(1)} ms ${kind}, ${isTold ? 'told' : 'not told'}, heard as a note`,
    );
  }
  for (const sec of after.missed) {
    const near = lossy.at.filter((loss) => Math.abs(loss.sec - sec) < 2 * NEAR_SEC);
    const beside = near.map((loss) => `${loss.lengthMs.toFixed(1)} ms lost at ${loss.sec.toFixed(3)} s`);
    console.log(`${recipe.id} ${sec.toFixed(3)} s: missed, ${beside.join(', ') || 'no loss near'}`);
  }
  sums.extra += after.extra.length;
  sums.missed += after.missed.length;
  sums.cleanExtra += clean.extra.length;
  sums.cleanMissed += clean.missed.length;
  sums.cleanFound += checkStream(take.signal, sampleRate).losses.length;
  sums.notes += take.truth.length;
  said.set(after.word, (said.get(after.word) ?? 0) + 1);
  saidOfClean.set(clean.word, (saidOfClean.get(clean.word) ?? 0) + 1);
}
console.log(
  `${sums.laid} losses in ${recipes.length} takes of ${sums.notes} notes: ${sums.found} told (in the clean takes ${sums.cleanFound}), ${sums.false} heard as a note (${((100 * sums.false) / sums.laid).toFixed(1)} %)`,
);
console.log(
  `notes missed ${sums.missed}, extra ${sums.extra}; in the clean takes ${sums.cleanMissed} and ${sums.cleanExtra}; said of the takes: ${listed(said)}; of the clean ones: ${listed(saidOfClean)}`,
);
