import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  codeFromFigures,
  codeInFigures,
  isInFigures,
  listCode,
  qrCode,
} from '../../../src/exchange/index.ts';
import { makeTest } from '../../../src/tests-engine/index.ts';

const SIGNS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'];

describe('a code in figures', () => {
  it('brings back the very same code, of any length', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...SIGNS), { maxLength: 300 }), (signs) => {
        const figures = codeInFigures(signs.join(''));
        expect(figures).toMatch(/^0\d+$/);
        expect(codeFromFigures(figures)).toBe(signs.join(''));
      }),
      { numRuns: 500 },
    );
  });
  it('cut short, longer, or with a group that no bytes have, is refused', () => {
    const figures = codeInFigures('3eJyAbc-_09zZ');
    for (let length = 6; length < figures.length; length++)
      expect(() => codeFromFigures(figures.slice(0, length))).toThrow(RangeError);
    expect(() => codeFromFigures(`${figures}0`)).toThrow(RangeError);
    expect(() => codeFromFigures(`000010${'9'.repeat(20)}`)).toThrow(RangeError);
    expect(() => codeFromFigures('3eJy')).toThrow(RangeError);
    expect(() => codeInFigures('a b')).toThrow(RangeError);
    expect(isInFigures('3123')).toBe(false);
  });
  it('of ten tests, the chords of their backings included, fits a QR code of version 19 of ISO/IEC 18004: 93 modules a side', () => {
    const tests = Array.from({ length: 10 }, (_, i) =>
      makeTest({
        ...{ kind: i % 2 === 0 ? 'melody' : 'rhythm', level: 1 + (i % 5), seed: 1000 + i },
        instrument: 'guitar',
      }),
    );
    const about = {
      homeworkId: 'a1b2c3d4e5f60718293a4b5c6d7e8f90',
      manner: 'strict',
      text: 'Sing it first.',
    };
    const code = listCode(about, tests);
    const [address, figures] = ['https://teacher.example/twobar/#homework=', codeInFigures(code)];
    expect(qrCode(address + figures)!.side).toBeLessThanOrEqual(93);
    expect(qrCode(address + figures)!.side).toBeLessThan(qrCode(address + code)!.side);
  });
});
