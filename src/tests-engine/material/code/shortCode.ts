import { Refusal, type Thrown } from '../../../music/refusal.ts';
import type { Instrument, PracticeTest, TestKind } from '../../../music/score.ts';
import { REFUSALS, type RefusalsOf } from '../../refusals/index.ts';
import { GENERATORS, type GeneratorVersion } from '../generators.ts';
import { makeTest } from '../makeTest.ts';

/** Crockford's base 32: no I, L, O or U, so that nothing is misread. */
const DIGITS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
/** The check letter: a weighted sum modulo a prime finds a wrong digit and two swapped ones, but for 0 and Z. */
const PRIME = 31;
const SEED_DIGITS = 7;

/** A short code that cannot be read; `message` is one sentence with a remedy. */
export class ShortCodeError extends Refusal<keyof RefusalsOf<'code'>> {
  override readonly name = 'ShortCodeError';
  constructor(...thrown: Thrown<RefusalsOf<'code'>>) {
    super(REFUSALS, thrown);
  }
}

function check(digits: string): string {
  const sum = [...digits].reduce((total, digit, i) => total + (i + 1) * (DIGITS.indexOf(digit) + 1), 0);
  return DIGITS[sum % PRIME]!;
}

/**
 * A code that a person can read out and type: "1M3-00000KF-W" is version 1, melody on guitar, level 3, a
 * seed in base 32, a check letter. Brings back the test with {@link testFromCode}; what was set by hand
 * (key, tempo, style, tuning, procedure) is not in it: a link carries that.
 * @returns null for a test that no level made, or that was changed by hand.
 */
export function shortCode(test: PracticeTest): string | null {
  const { kind, instrument, level, seed } = test;
  if (level === null || seed === null) return null;
  // The first generator's tests have no chords, the others' say which arranger plays them; what it does not make
  // again was changed by hand.
  const generator: GeneratorVersion = test.backing?.arranger ?? 1;
  const again = makeTest({ kind, level, seed, instrument }, generator);
  if (JSON.stringify(again) !== JSON.stringify(test)) return null;
  let rest = seed;
  let digits = '';
  for (let i = 0; i < SEED_DIGITS; i++) {
    digits = DIGITS[rest % 32]! + digits;
    rest = Math.floor(rest / 32);
  }
  const head = `${DIGITS[generator]}${LETTERS[kind][instrument]}${DIGITS[level]}`;
  return `${head}-${digits}-${check(head + digits)}`;
}

const LETTERS: Readonly<Record<TestKind, Readonly<Record<Instrument, string>>>> = {
  melody: { guitar: 'M', bass: 'N' },
  rhythm: { guitar: 'R', bass: 'S' },
};
const KINDS: Readonly<Record<string, readonly [TestKind, Instrument]>> = Object.fromEntries(
  Object.entries(LETTERS).flatMap(([kind, letters]) =>
    Object.entries(letters).map(([instrument, letter]) => [
      letter,
      [kind as TestKind, instrument as Instrument],
    ]),
  ),
);

/**
 * The test of a code; spaces, hyphens and case do not matter, and O, I and L are read as 0, 1 and 1.
 * @throws ShortCodeError when it was mistyped or comes from another version of the generator.
 */
export function testFromCode(code: string): PracticeTest {
  const typed = code.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');
  const length = 3 + SEED_DIGITS + 1;
  if (typed.length !== length || [...typed].some((digit) => !DIGITS.includes(digit)))
    throw new ShortCodeError('code-length', { length });
  const body = typed.slice(0, -1);
  if (check(body) !== typed.at(-1)) throw new ShortCodeError('code-mistyped');
  const version = DIGITS.indexOf(typed[0]!);
  const generator = GENERATORS.find((known) => known === version);
  if (version > Math.max(...GENERATORS)) throw new ShortCodeError('code-newer');
  const kind = KINDS[typed[1]!];
  const level = DIGITS.indexOf(typed[2]!);
  const seed = [...typed.slice(3, -1)].reduce((sum, digit) => sum * 32 + DIGITS.indexOf(digit), 0);
  if (generator === undefined || !kind || level < 1 || level > 10 || seed > 0xffffffff)
    throw new ShortCodeError('code-unknown');
  return makeTest({ kind: kind[0], level, seed, instrument: kind[1] }, generator);
}
