import { beforeAll, describe, expect, it } from 'vitest';
import { makeStrum } from '../../audio-fixtures/chords/index.ts';
import { babble } from '../../audio-fixtures/effects/voice.ts';
import { loadBanks, type Bank } from '../../audio-fixtures/index.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { createResampler, hearOverBacking, hearStrums, hearTake, judgeStrum } from '../../src/dsp/index.ts';
import { qrCode } from '../../src/exchange/index.ts';
import { Note } from 'tonal';
import { fifthsOf } from '../../src/notation/index.ts';
import type { TakenStrum } from '../../src/music/chords/index.ts';
import { cents, sec } from '../../src/music/units.ts';
import { homeworkFragment, readHomework } from '../../src/store/homework/homework.ts';
import {
  chordsAtSec,
  DRILL_FIGURES,
  DRILL_INTERVALS,
  drillTest,
  makeChords,
  makeTest,
  markTask,
  POSITIONS,
  TUNINGS,
} from '../../src/tests-engine/index.ts';
import { noiseFloorDb, noiseWord } from '../../src/ui/level.ts';
import { CHORD_DOUBTS, t } from '../../src/ui/messages.ts';
import { Editor } from '../../src/ui/screens/phrases/editor.svelte.ts';
import { SCALES, TONICS } from '../../src/ui/screens/phrases/keyChoice.ts';
import { bleedOf, noiseSource, simpleBacking, simpleRoom } from '../dsp/bleed/scene.ts';
import { ID } from '../store/support/backup.ts';

const RATE = 44_100;
const rms = (x: Float32Array): number => Math.sqrt(x.reduce((sum, v) => sum + v * v, 0) / x.length);
const mixed = (x: Float32Array, y: Float32Array, gain: number): Float32Array =>
  x.map((v, i) => v + gain * (y[i] ?? 0));
/** Noise of a room of this loudness, the same each time. */
function hiss(length: number, level: number): Float32Array {
  let seed = 1;
  return Float32Array.from({ length }, () => {
    seed = (seed * 16_807) % 2_147_483_647;
    return level * (seed / 1_073_741_823 - 1);
  });
}
/** The whole instrument tuned so much higher. */
function tuned(signal: Float32Array, by: number): Float32Array {
  const parts: number[] = [];
  const resampler = createResampler(Math.round(RATE * 2 ** (by / 1200)), RATE);
  const keep = (part: Float32Array) => void part.forEach((x) => parts.push(x));
  resampler.push(signal, keep);
  resampler.finish(keep);
  return Float32Array.from(parts);
}

describe('a chord that could not be told: what is said to do is done, and it is told', () => {
  /** The npm pack's nylon guitar: any machine has it, and nothing was fitted on it. */
  let nylon: Bank;
  beforeAll(async () => {
    nylon = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
  });
  const strum = (seed: number, kind: 'open' | 'barre' = 'open', fault: 'right' | 'weak string' = 'right') =>
    makeStrum({ kind, fault, effect: 'clean', bank: nylon, seed })!;
  const judged = ({ asked }: ReturnType<typeof strum>, signal: Float32Array) => {
    const { verdict, doubt } = judgeStrum(hearStrums(signal, RATE)[0]!, { shapes: [asked] });
    return doubt ?? verdict;
  };

  it('out-of-tune: tuned and played again', () => {
    const made = strum(11);
    // One that is tuned as a whole is heard as it is; strings that are out with each other are not.
    const high = tuned(made.signal, 46);
    expect(judged(made, high)).toBe('yes');
    const apart = made.signal.map((x, i) => x + 0.6 * (high[i] ?? 0));
    expect(judged(made, apart)).toBe('out-of-tune');
    expect(CHORD_DOUBTS['out-of-tune'].remedy).toMatch(/Tune your strings/);
    expect(judged(made, made.signal)).toBe('yes');
  });
  it('too-short: left to ring for half a second', () => {
    const made = strum(12);
    const rung = (forSec: number) =>
      made.signal.map((x, i) => (i / RATE < made.firstSec / made.speed + forSec ? x : 0));
    expect(judged(made, rung(0.18))).toBe('too-short');
    expect(CHORD_DOUBTS['too-short'].remedy).toMatch(/at least half a second/);
    expect(judged(made, rung(0.5))).toBe('yes');
  });
  it('too-quiet: twice as loud, or from half as far, in the same noise', () => {
    const made = strum(11);
    const noise = hiss(made.signal.length, 8 * rms(made.signal));
    expect(judged(made, mixed(made.signal, noise, 1))).toBe('too-quiet');
    expect(CHORD_DOUBTS['too-quiet'].remedy).toMatch(/Move closer.*louder/);
    expect(
      judged(
        made,
        mixed(
          made.signal.map((x) => 2 * x),
          noise,
          1,
        ),
      ),
    ).toBe('yes');
  });
  it('not-a-chord: where it is quiet', () => {
    const made = strum(17);
    const talk = babble(made.signal.length, RATE, makeRandom(9));
    expect(judged(made, mixed(made.signal, talk, (3 * rms(made.signal)) / rms(talk)))).toBe('not-a-chord');
    expect(CHORD_DOUBTS['not-a-chord'].remedy).toMatch(/Play where it is quiet/);
    expect(judged(made, made.signal)).toBe('yes');
  });
  it('close: with all strings even; and it costs nothing', () => {
    const weak = strum(66, 'barre', 'weak string');
    expect(judged(weak, weak.signal)).toBe('close');
    expect(CHORD_DOUBTS.close.remedy).toMatch(/all strings ring evenly; this one cost you nothing/);
    const even = strum(66, 'barre');
    expect(judged(even, even.signal)).toBe('yes');
    const test = makeChords({ seed: 8, families: ['open'], voicing: 'shape', count: 8, how: 'named' });
    const take = (unsure: number) => ({
      ...{ notes: [], tuningCents: cents(0), heard: { verdict: 'ok', reason: null } as const },
      strums: chordsAtSec(test).map((at, asked): TakenStrum => ({
        ...{ firstSec: sec(at), fullSec: sec(at + 0.02) },
        answers: [
          {
            ...{ asked, missing: [], foreign: [], lowerNote: null },
            ...(asked === unsure
              ? { verdict: 'cannot-tell', doubt: 'close' }
              : { verdict: 'yes', doubt: null }),
          },
        ],
      })),
    });
    expect(markTask(test, take(3)).mark).toBe(markTask(test, take(-1)).mark);
  });
});

describe('a noisy room', () => {
  /** Levels as they are read some ten times a second. */
  const levels = (x: Float32Array) =>
    Array.from(
      { length: Math.floor(x.length / 4410) },
      (_, k) => 20 * Math.log10(rms(x.subarray(k * 4410, (k + 1) * 4410)) + 1e-9),
    );
  const hum = (level: number) =>
    Float32Array.from({ length: 3 * RATE }, (_, i) => level * Math.sin((2 * Math.PI * 50 * i) / RATE));
  const room = hiss(3 * RATE, 0.0005);
  const word = (x: Float32Array) => noiseWord(noiseFloorDb(levels(x))!);

  it.each([
    ['some', 0.004],
    ['loud', 0.02],
  ] as const)('%s: what hums is turned off', (found, level) => {
    expect(word(mixed(room, hum(level), 1))).toBe(found);
    expect(t(`check.noise.${found}`)).toMatch(/Turn off what hums.*move closer/);
    expect(word(room)).toBe('quiet');
  });
  it('from nearer every note of a soft take stands out of it', () => {
    const pitches = [45, 48, 50, 52];
    const take = new Float32Array(3 * RATE);
    pitches.forEach((midi, k) => {
      const hz = 440 * 2 ** ((midi - 69) / 12);
      for (let n = 0; n < 0.55 * RATE; n++)
        for (let h = 1; h < 10; h++)
          take[Math.round((0.3 + 0.6 * k) * RATE) + n]! +=
            (0.1 / h) * Math.sin((2 * Math.PI * hz * h * n) / RATE) * Math.exp((-4 * h ** 0.5 * n) / RATE);
    });
    const heard = (closer: number) =>
      hearTake(mixed(hiss(take.length, 0.05), take, closer), RATE, { instrument: 'guitar' }).notes.map(
        ({ midi }) => midi as number,
      );
    expect(heard(0.1)).not.toEqual(pitches);
    expect(heard(2)).toEqual(pitches);
  });
});

it('a backing that is nearly too loud: turned down a little, or from nearer, the take is heard without caution', () => {
  const rate = 24_000;
  const fromSec = 6;
  const reference = simpleBacking(5, rate, 10);
  const noise = noiseSource(3);
  const player = Float32Array.from(reference, () => 0.0005 * noise());
  [45, 48, 50, 52].forEach((midi, k) => {
    const hz = 440 * 2 ** ((midi - 69) / 12);
    const at = Math.round([6.513, 7.021, 7.498, 8.107][k]! * rate);
    for (let n = 0; n < 0.45 * rate; n++)
      for (let h = 1; h < 12; h++)
        player[at + n]! +=
          (0.1 / h) * Math.sin((2 * Math.PI * hz * h * n) / rate) * Math.exp((-4 * h ** 0.5 * n) / rate);
  });
  const bleed = bleedOf(reference, { rate, delaySec: 0.09, driftPpm: 20, room: simpleRoom(3, rate, 0.2) });
  /** Backing and player so loud, and then the input so that nothing is cut off. */
  const heard = (backing: number, closer: number) => {
    const both = player.map((v, n) => (closer * v + backing * bleed[n]!) / 24);
    return hearOverBacking(both, rate, { instrument: 'guitar', reference, fromSec }).heard;
  };
  expect(heard(24, 1)).toMatchObject({ verdict: 'caution', reason: 'backing-too-loud' });
  expect(t('over.caution.remedy')).toMatch(/Turn the backing down a little, or bring the microphone closer/);
  expect(heard(16, 1)).toMatchObject({ verdict: 'ok' });
  expect(heard(24, 1.5)).toMatchObject({ verdict: 'ok' });
});

describe('own phrases', () => {
  it('a note with a question mark that was looked at and corrected loses it, and no other does', () => {
    const editor = new Editor(makeTest({ kind: 'melody', level: 2, seed: 3, instrument: 'guitar' }), [1, 3]);
    expect(editor.chosen).toBe(1);
    expect(editor.correct('up')).toBe(true);
    expect(editor.doubtful).toEqual([3]);
  });
  it('each key that would need more than seven accidentals has another name that needs fewer', () => {
    const fits = (tonic: string, scale: string): boolean => {
      try {
        fifthsOf({ tonic, scale });
        return true;
      } catch {
        return false;
      }
    };
    const wrong = SCALES.flatMap((scale) =>
      TONICS.filter((tonic) => !fits(tonic, scale)).map((tonic) => [tonic, scale] as const),
    );
    expect(wrong.length).toBeGreaterThan(0);
    for (const [tonic, scale] of wrong)
      expect(
        TONICS.some((other) => Note.chroma(other) === Note.chroma(tonic) && fits(other, scale)),
        `${tonic} ${scale}`,
      ).toBe(true);
  });
});

it('homework too long for a QR code opens from the same link as text', async () => {
  const homework = (count: number) =>
    homeworkFragment(
      {
        ...{ id: ID(7), studentId: ID(1), createdAtMs: 1, manner: 'strict', dueOn: null, text: '' },
        tests: Array.from({ length: count }, (_, seed) =>
          makeTest({ kind: 'melody', level: 10, seed, instrument: 'guitar' }),
        ),
      },
      { there: 85, close: 60 },
    );
  const link = (fragment: string) => `https://example.org/twobar/#homework=${fragment}`;
  expect(qrCode(link(await homework(1)))).not.toBeNull();
  const long = await homework(60);
  expect(qrCode(link(long))).toBeNull();
  expect((await readHomework(long)).tests).toHaveLength(60);
});

it('no choice of a drill’s form is impossible on any instrument that can be chosen: the refusal is for what comes later', () => {
  const drill = { intervals: [2], figure: DRILL_FIGURES[0]!, tempoBpm: null, style: null, practiceSec: null };
  const positions = [null, ...(Object.keys(POSITIONS) as (keyof typeof POSITIONS)[])];
  for (const [i, { instrument, strings: tuning }] of TUNINGS.entries())
    for (const [k, position] of positions.entries()) {
      // Levels and kinds go round, so that each meets each position.
      const size = DRILL_INTERVALS[(i + k) % DRILL_INTERVALS.length]!;
      const what = k % 2 === 0 ? ('answer' as const) : ('intervals' as const);
      const chosen = { ...drill, what, intervals: [size], level: 1 + ((3 * i + 4 * k) % 10), position };
      const { phrase } = drillTest(chosen, { instrument, tuning }, 5);
      expect(phrase.notes.length).toBeGreaterThan(0);
    }
});
