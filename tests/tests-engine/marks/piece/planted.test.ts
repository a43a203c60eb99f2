import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../../audio-fixtures/random.ts';
import { markPiece } from '../../../../src/tests-engine/index.ts';
import { makePiece, plantSlips } from '../../../support/piece.ts';

const SEEDS = Array.from({ length: 8 }, (_, k) => 8100 + k);
const heardAs = (played: readonly { onsetSec: number; midi: number }[]) =>
  played.map(({ onsetSec, midi }) => ({ onsetSec, midi, confidence: 0.95 }));

describe('three minutes with planted slips, as note lists', () => {
  it.each(SEEDS)('names every bar as it was planted, the jump and the stop (seed %i)', (seed) => {
    const piece = makePiece(seed, { seconds: 180, level: 3 + (seed % 6) });
    const planted = plantSlips(piece, makeRandom(seed));
    const marked = markPiece({ ...piece, played: heardAs(planted.played) });
    const not = planted.truth.flatMap((allowed, bar) =>
      allowed.includes(marked.bars[bar]!) ? [] : [`${bar}: ${allowed.join('|')}, named ${marked.bars[bar]}`],
    );
    expect(not).toEqual([]);
    const back = marked.events.filter(({ kind }) => kind === 'wentBack');
    expect(back).toHaveLength(1);
    const stops = marked.events.filter(({ kind }) => kind === 'stopped');
    expect(stops).toEqual([expect.objectContaining({ fromBar: planted.stop.bar, bar: planted.stop.again })]);
  });

  it('accuses no bar of a take as written, wherever the latency puts it', () => {
    const piece = makePiece(8200, { seconds: 90 });
    for (const lateSec of [0, 0.12, -0.06]) {
      const played = heardAs(piece.target.map((t) => ({ ...t, onsetSec: t.onsetSec + lateSec })));
      const marked = markPiece({ ...piece, played, latencyUncertaintyMs: Infinity });
      expect(new Set(marked.bars)).toEqual(new Set(['right']));
      expect(marked.mark).toBe(100);
      expect(marked.events).toEqual([]);
    }
  });

  it('calls a player who stays a bar behind beside the backing, not wrong', () => {
    const piece = makePiece(8201, { seconds: 60 });
    const bar = piece.barSecs[1]!;
    const from = 10;
    const played = heardAs(
      piece.target.map((t) => ({ ...t, onsetSec: t.onsetSec + (t.bar >= from ? bar : 0) })),
    );
    const marked = markPiece({ ...piece, played });
    expect(marked.bars.slice(0, from).every((state) => state === 'right')).toBe(true);
    expect(marked.bars.slice(from + 1, -1).every((state) => state === 'beside')).toBe(true);
    expect(marked.events).toContainEqual(expect.objectContaining({ kind: 'beside', bar: from, beats: 4 }));
  });

  it('holds nothing unclear against anyone, and calls nothing played nothing', () => {
    const piece = makePiece(8202, { seconds: 40 });
    const played = piece.target.map((t, i) => ({
      onsetSec: t.onsetSec,
      midi: t.midi + (i % 2),
      confidence: i % 2 ? 0.2 : 0.9,
    }));
    const marked = markPiece({ ...piece, played });
    expect(marked.bars.some((state) => state === 'wrong')).toBe(false);
    expect(marked.mark).toBe(100);
    expect(new Set(markPiece({ ...piece, played: [] }).bars)).toEqual(new Set(['silent']));
  });
});
