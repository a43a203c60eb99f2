import { describe, expect, it } from 'vitest';
import { DEFAULT_THRESHOLDS, outcomeOf } from '../../../src/music/outcome.ts';
import { parseThresholds } from '../../../src/music/schema/index.ts';
import { mark, TUNE } from './takes.ts';

describe('the teacher’s thresholds of the outcome words', () => {
  it('are taken as given where close lies under there', () => {
    expect(parseThresholds({ there: 90, close: 70 })).toEqual({ there: 90, close: 70 });
    expect(parseThresholds({ ...DEFAULT_THRESHOLDS })).toEqual(DEFAULT_THRESHOLDS);
  });

  it.each([
    [null, TypeError, 'thresholds must be an object {there, close}, got null'],
    [[85, 60], TypeError, 'thresholds must be an object {there, close}, got [85,60]'],
    [{ there: 85 }, TypeError, 'thresholds.close must be given, got undefined'],
    [{ there: NaN, close: 60 }, TypeError, 'thresholds.there must be a finite number, got NaN'],
    [{ there: 101, close: 60 }, RangeError, 'thresholds.there must be 0 to 100, got 101'],
    [{ there: 85, close: -1 }, RangeError, 'thresholds.close must be 0 to 100, got -1'],
    [{ there: 60, close: 60 }, RangeError, 'thresholds.close must be under thresholds.there (60), got 60'],
    [
      { there: 85, close: 60, best: 95 },
      TypeError,
      'thresholds has the unknown key "best"; known are there, close',
    ],
  ])('%j is refused in one sentence', (value, error, message) => {
    expect(() => parseThresholds(value)).toThrow(new error(message));
  });

  it('belong to the better word at the mark itself', () => {
    expect([85, 84.9, 65, 64.9].map((m) => outcomeOf(m, DEFAULT_THRESHOLDS))).toEqual([
      'there',
      'close',
      'close',
      'not-yet',
    ]);
  });

  it('that no teacher can mean are the caller’s mistake when a take is marked', () => {
    expect(() => mark(TUNE, { thresholds: { there: 50, close: 80 } })).toThrow(RangeError);
  });
});
