import { describe, expect, it } from 'vitest';
import { cancellable } from './cancellable.ts';
import { balanceOf } from '../../../src/ui/pieces/balance.ts';
import { tapped } from '../../../src/ui/pieces/taps.ts';

describe('taps on the beat', () => {
  it('one says where bar 1 is; four the tempo as well', () => {
    expect(tapped([])).toBeNull();
    expect(tapped([2.5])).toEqual({ nearSec: 2.5, bpm: null });
    expect(tapped([2, 2.5, 3, 3.5])).toEqual({ nearSec: expect.closeTo(2, 9), bpm: expect.closeTo(120, 9) });
  });
  it('shaky taps of 20 ms give the tempo within one in a hundred; a beat left out does no harm', () => {
    const shake = [0.012, -0.02, 0.018, -0.008, 0.02, -0.015, 0.004, 0.01];
    const taps = shake.map((by, i) => 1 + 0.6 * (i > 4 ? i + 1 : i) + by);
    const told = tapped(taps)!;
    expect(Math.abs(told.bpm! / 100 - 1)).toBeLessThan(0.02);
    expect(Math.abs(told.nearSec - 1)).toBeLessThan(0.07);
  });
});

describe('how loud player and backing are', () => {
  it.each([-10, -6, 0, 6, 10])('tells %i dB from what the cancelling took away', (db) => {
    const told = balanceOf(cancellable(db));
    expect(told).toEqual({
      kind: Math.abs(db) <= 4 ? 'even' : db < 0 ? 'backing-loud' : 'you-loud',
      db: expect.closeTo(db, 6),
    });
  });
  it('says when nobody plays, and when no backing is heard', () => {
    expect(balanceOf({ verdict: 'refused', reason: 'backing-only' })).toEqual({ kind: 'silent' });
    expect(balanceOf(cancellable(-40))).toEqual({ kind: 'silent' });
    expect(balanceOf({ verdict: 'ok', reason: null, delayMs: null, cancellationDb: null })).toEqual({
      kind: 'unheard',
    });
  });
});
