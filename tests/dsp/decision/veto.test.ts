import { beforeAll, expect, it } from 'vitest';
import { makeTake, loadBanks } from '../../../audio-fixtures/index.ts';
import { addTo, whiteNoise } from '../../../audio-fixtures/effects/noise.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import type { Bank, Take } from '../../../audio-fixtures/index.ts';
import type { Random } from '../../../audio-fixtures/random.ts';
import { accept } from '../../../src/dsp/decision/accept.ts';
import { createLooks } from '../../../src/dsp/decision/looks.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../../../src/dsp/decision/weights.ts';
import { analyse } from '../../../src/dsp/hear/analysis.ts';
import { THRESHOLD } from '../../../src/dsp/hear/segment.ts';
import { toWorkRate } from '../../../src/dsp/hear/toWorkRate.ts';
import { hearTake } from '../../../src/dsp/index.ts';
import { WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { matchNotes } from '../../support/fixtures/note-metrics.ts';

let banks: readonly Bank[];
beforeAll(async () => {
  banks = (await loadBanks('npm')).all;
});

/** A hand on a hollow body, made here so that no fit has heard it: noise that dies at once and a box that rings a little longer. */
function knock(rate: number, random: Random): Float32Array {
  const length = Math.round(0.25 * rate);
  const out = whiteNoise(length, random);
  const [box, dies, rings] = [
    random.between(90, 320),
    random.between(0.004, 0.02),
    random.between(0.015, 0.05),
  ];
  for (let i = 0; i < length; i++) {
    const t = i / rate;
    out[i] =
      0.12 * out[i]! * Math.exp(-t / dies) + 0.2 * Math.sin(2 * Math.PI * box * t) * Math.exp(-t / rings);
  }
  return out;
}

/** The take with a knock in every second note, 60–110 ms before the next, while the string rings. */
function knockedOn(
  { signal, sampleRate, truth }: Take,
  random: Random,
): { signal: Float32Array; count: number } {
  const out = signal.slice();
  let count = 0;
  truth.forEach(({ onsetSec, offsetSec }, i) => {
    const next = truth[i + 1]?.onsetSec ?? offsetSec;
    const at = next - random.between(0.06, 0.11);
    if (i % 2 === 1 || at < onsetSec + 0.07 || at > offsetSec) return;
    addTo(out, knock(sampleRate, random), Math.round(at * sampleRate), 10 ** (random.between(-14, 4) / 20));
    count++;
  });
  return { signal: out, count };
}

const decide = createLooks({ first: FIRST_LOOK, second: SECOND_LOOK });
/** What is heard without the third look. */
function twoLooks(signal: Float32Array, rate: number): { onsetSec: number; midi: number }[] {
  const { possible } = analyse(toWorkRate(signal, rate));
  const at = possible.map((p) => p.attack.at / WORK_RATE);
  const { chances } = decide(
    at,
    possible.map((p) => p.features),
  );
  const of = new Map(possible.map((p, i) => [p, chances[i]!]));
  return accept(possible, (p) => of.get(p)!, THRESHOLD).map(({ possible: p }) => ({
    onsetSec: p.attack.at / WORK_RATE,
    midi: 0,
  }));
}

it('a knock while a string rings is not a note, and costs none', { timeout: 60_000 }, () => {
  const sums = { knocks: 0, notes: 0, missed: 0, extra: 0, extraOfTwo: 0, missedOfTwo: 0 };
  for (let k = 0; k < 12; k++) {
    const take = makeTake({
      family: k % 2 ? 'rhy' : 'mel',
      seed: 910_000 + k,
      bank: banks[k % banks.length]!,
    });
    const { signal, count } = knockedOn(take, makeRandom(k));
    const errors = (notes: readonly { onsetSec: number; midi: number }[]): [number, number] => {
      const hits = matchNotes(take.truth, notes, 0.05, Infinity).filter((h) => h >= 0).length;
      return [take.truth.length - hits, notes.length - hits];
    };
    const [missed, extra] = errors(
      hearTake(signal, take.sampleRate, { instrument: take.instrument, tuning: 'any' }).notes,
    );
    const [missedOfTwo, extraOfTwo] = errors(twoLooks(signal, take.sampleRate));
    sums.knocks += count;
    sums.notes += take.truth.length;
    sums.missed += missed;
    sums.extra += extra;
    sums.missedOfTwo += missedOfTwo;
    sums.extraOfTwo += extraOfTwo;
  }
  expect(sums.knocks).toBeGreaterThan(50);
  // Without the third look the test would ask nothing.
  expect(sums.extraOfTwo).toBeGreaterThan(0.05 * sums.knocks);
  expect(sums.extra).toBeLessThanOrEqual(0.02 * sums.knocks);
  expect(sums.missed).toBeLessThanOrEqual(sums.missedOfTwo);
});
