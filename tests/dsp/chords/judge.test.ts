import { beforeAll, describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../../audio-fixtures/banks/npm.ts';
import {
  makeStrum,
  playChords,
  RATE,
  RIGHT,
  type ChordKind,
  type Effect,
  type Fault,
} from '../../../audio-fixtures/chords/index.ts';
import type { MadeStrum } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks, type Bank } from '../../../audio-fixtures/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { babble } from '../../../audio-fixtures/effects/voice.ts';
import { createResampler, hearStrums, judgeStrum } from '../../../src/dsp/index.ts';
import type { HeardStrum } from '../../../src/dsp/index.ts';

/** The npm pack's nylon guitar: any machine has it, and nothing was fitted on it. */
let nylon: Bank;
beforeAll(async () => {
  nylon = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
});

function make(kind: ChordKind, fault: Fault, seed: number, effect: Effect = 'clean'): MadeStrum {
  const made = makeStrum({ kind, fault, effect, bank: nylon, seed });
  if (!made) throw new Error(`no ${kind} with ${fault}`);
  return made;
}

/** The strum that was made, among those heard. */
function strumOf(made: MadeStrum, signal = made.signal, rate = 44_100, shiftSec = 0): HeardStrum {
  const strums = hearStrums(signal, rate);
  const near = strums.filter((s) => Math.abs(s.firstSec - shiftSec - made.firstSec / made.speed) < 0.05);
  expect(near.length).toBe(1);
  return near[0]!;
}

const judge = (made: MadeStrum) => judgeStrum(strumOf(made), { shapes: [made.asked] });
const classes = (notes: readonly number[]) => new Set(notes.map((midi) => midi % 12));

describe('a strum of an instrument that nothing was fitted on', () => {
  it.each([11, 12, 13, 14, 15, 16].flatMap((seed) => RIGHT.map((fault) => [seed, fault] as const)))(
    'is not accused where it is right (seed %i, %s)',
    (seed, fault) => {
      for (const kind of ['open', 'barre', 'seventh'] as const)
        expect(judge(make(kind, fault, seed)).verdict, `${kind} ${fault} ${seed}`).not.toBe('no');
    },
  );

  it.each([
    'third to fourth',
    'major for minor',
    'no third',
    'wrong chord',
    'fret off',
    'single note',
  ] as const)('is told as no with %s, and what is named is so', (fault) => {
    for (let seed = 21; seed < 25; seed++) {
      const made = make('barre', fault, seed);
      const { verdict, findings } = judge(made);
      expect(verdict, `seed ${seed}`).toBe('no');
      for (const pc of findings.missing) expect(classes(made.sounding).has(pc)).toBe(false);
      for (const pc of findings.foreign) {
        expect(classes(made.sounding).has(pc)).toBe(true);
        expect(classes(made.asked).has(pc)).toBe(false);
      }
    }
  });

  it('is answered alike however loud, however late, and at 48 kHz', () => {
    for (const fault of ['right', 'no third'] as const) {
      const made = make('open', fault, 31);
      const asked = { shapes: [made.asked] };
      const own = judgeStrum(strumOf(made), asked);
      const quiet = judgeStrum(
        strumOf(
          made,
          made.signal.map((x) => 0.05 * x),
        ),
        asked,
      );
      const late = new Float32Array(made.signal.length + 44_100);
      late.set(made.signal, 44_100);
      const shifted = judgeStrum(strumOf(made, late, 44_100, 1), asked);
      const parts: number[] = [];
      const up = createResampler(44_100, 48_000);
      up.push(made.signal, (part) => void parts.push(...part));
      up.finish((part) => void parts.push(...part));
      const other = judgeStrum(strumOf(made, Float32Array.from(parts), 48_000), asked);
      for (const judged of [quiet, shifted, other]) {
        expect(judged.verdict).toBe(own.verdict);
        expect(judged.findings).toEqual(own.findings);
      }
    }
  });

  it('gives the tuning of the whole instrument and judges what is tuned 15 to 38 cents off', () => {
    for (let seed = 41; seed < 45; seed++) {
      const made = make('open', 'right', seed, 'detuned');
      const judged = judge(made);
      // Strings scatter by 3 cents, stiffness raises what the peaks say.
      expect(Math.abs(judged.tuningCents - made.tuningCents)).toBeLessThan(8);
      expect(judged.verdict).not.toBe('no');
    }
  });

  it('is one strum however slowly it is raked, timed by its first string', () => {
    for (let seed = 51; seed < 56; seed++) {
      const made = make('open', 'right', seed, 'raked');
      const strum = strumOf(made);
      expect(Math.abs(strum.firstSec - made.firstSec)).toBeLessThan(0.025);
      expect(strum.fullSec).toBeGreaterThanOrEqual(strum.firstSec);
      expect(strum.fullSec).toBeLessThan(made.lastSec + 0.05);
    }
  });

  it('asked by name is answered in whatever voicing it comes', () => {
    for (let seed = 61; seed < 65; seed++) {
      const made = make('barre', 'right', seed);
      const strum = strumOf(made);
      const asked = [...classes(made.asked)];
      expect(judgeStrum(strum, { classes: asked }).verdict).not.toBe('no');
      // The same strum, a semitone higher asked for.
      expect(judgeStrum(strum, { classes: asked.map((pc) => (pc + 1) % 12) }).verdict).toBe('no');
    }
  });

  // Low strings whose partials hold a whole major chord, or a fifth, as loud as notes of their own.
  it.each([
    ['acoustic', [40, 41, 44]],
    ['nylon', [40, 47, 51]],
  ] as const)('of one string alone is no chord by name: %s', async (name, open) => {
    const bank = await loadNpmBank(name);
    for (const midi of open) {
      const pcm = playChords(bank, [{ notes: [midi], atSec: 0.5, untilSec: 3 }], {
        durationSec: 3.3,
        seed: 1,
      });
      const [strum] = hearStrums(pcm, RATE);
      const asked = (...over: number[]) => ({ classes: over.map((up) => (midi + up) % 12) });
      const { verdict, findings } = judgeStrum(strum!, asked(0, 4, 7));
      expect(verdict, `major over ${midi}`).toBe('no');
      expect([...findings.missing].sort((a, b) => a - b)).toEqual(
        [(midi + 4) % 12, (midi + 7) % 12].sort((a, b) => a - b),
      );
      // A fifth that is only a twelfth over the bass is what sound cannot know.
      expect(judgeStrum(strum!, asked(0, 7)).verdict, `fifth over ${midi}`).toBe('cannot-tell');
    }
  });

  it('is judged by the mildest of several shapes', () => {
    const made = make('open', 'right', 71);
    const strum = strumOf(made);
    const wrong = made.asked.map((midi) => midi + 1);
    const both = judgeStrum(strum, { shapes: [wrong, made.asked] });
    expect(both.shape).toBe(1);
    expect(both.verdict).toBe(judgeStrum(strum, { shapes: [made.asked] }).verdict);
    expect(judgeStrum(strum, { shapes: [wrong] }).verdict).toBe('no');
  });

  it('cannot be told where the hand damps it at once', () => {
    const made = make('open', 'right', 81);
    const cut = made.signal.slice();
    const at = Math.round((made.firstSec + 0.25) * 44_100);
    for (let i = at; i < cut.length; i++) cut[i]! *= Math.exp(-(i - at) / 500);
    const { verdict, doubt } = judgeStrum(strumOf(made, cut), { shapes: [made.asked] });
    expect([verdict, doubt]).toEqual(['cannot-tell', 'too-short']);
  });
});

describe('what is no strum', () => {
  it('silence and hiss hold none', () => {
    expect(hearStrums(new Float32Array(88_200), 44_100)).toEqual([]);
    expect(hearStrums(new Float32Array(0), 44_100)).toEqual([]);
    const random = makeRandom(5);
    const hiss = Float32Array.from({ length: 88_200 }, () => 1e-3 * random.normal());
    expect(hearStrums(hiss, 44_100)).toEqual([]);
  });

  it('voices are never heard as the chord asked for', () => {
    const talk = babble(44_100 * 4, 44_100, makeRandom(9));
    for (const strum of hearStrums(talk, 44_100))
      expect(judgeStrum(strum, { shapes: [[48, 52, 55, 60, 64]] }).verdict).not.toBe('yes');
  });
});

describe('what cannot be asked for', () => {
  it.each([
    [{ shapes: [] }, /at least one shape/],
    [{ shapes: [[]] }, /a shape must not be empty/],
    [{ shapes: [[48, 52.5]] }, /whole numbers 28 to 81, got 52.5/],
    [{ shapes: [[12]] }, /whole numbers 28 to 81, got 12/],
    [{ classes: [12] }, /whole numbers 0 to 11, got 12/],
  ])('%j is a RangeError', (asked, message) => {
    const strum = strumOf(make('open', 'right', 91));
    expect(() => judgeStrum(strum, asked)).toThrow(RangeError);
    expect(() => judgeStrum(strum, asked)).toThrow(message);
  });
});
