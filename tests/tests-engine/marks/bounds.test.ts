import { describe, expect, it } from 'vitest';
import { random } from '../../bench/marks/stats.ts';
import { alignCost } from '../../../src/tests-engine/marks/align.ts';
import { kindest, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import type { Clock } from '../../../src/tests-engine/index.ts';

describe('what a stretch of tempos and keys costs at least', () => {
  it.each(['backing', 'free'] as const satisfies readonly Clock[])(
    'is never more than one of them costs, %s',
    (clock) => {
      for (let seed = 1; seed <= 150; seed++) {
        const next = random(seed * 7919);
        for (let k = 0; k < 3; k++) next();
        const list = (count: number): { onsetSec: number; midi: number }[] =>
          Array.from({ length: count }, () => ({ onsetSec: 2 * next(), midi: 50 + 20 * next() }));
        const rhythm = next() < 0.3;
        const bare = <T extends { onsetSec: number }>(notes: T[]): { onsetSec: number }[] =>
          rhythm ? notes.map(({ onsetSec }) => ({ onsetSec })) : notes;
        const prepared = prepare({
          target: bare(list(2 + Math.floor(6 * next()))),
          played: bare(list(2 + Math.floor(8 * next()))),
          clock,
          transposition: 'none',
        });
        const { frame } = kindest(prepared, () => 1);
        const [slack, bend] = [clock === 'free' ? 0.6 * next() : 0, 8 * next()];
        const least = alignCost({ ...frame, slack, bend, borrow: frame.borrow * (1 - slack) }, prepared.rule);
        for (let k = 0; k < 10; k++) {
          const [x, y] = [slack * (2 * next() - 1), bend * (2 * next() - 1)];
          const inside = {
            ...frame,
            s: frame.s.map((at) => frame.s[0]! + (at - frame.s[0]!) * (1 + x)),
            q: frame.q.map((midi) => midi + y),
          };
          expect(least).toBeLessThanOrEqual(alignCost(inside, prepared.rule) + 1e-9);
        }
      }
    },
  );
});
