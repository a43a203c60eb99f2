import { chooseNext, estimate, know, makeTest, practised } from '../../../src/tests-engine/index.ts';
import type { Practised } from '../../../src/tests-engine/index.ts';
import { learner } from '../../tests-engine/progress/learner.ts';
import { MAY_BE_WEAK } from './panel.ts';
import { KINDS, pooled } from './pool.ts';
import { countedMark } from './simulate.ts';

const ATTEMPTS = 5000;
const ROUNDS = 12;

/** Median of several rounds, wall and CPU ms. */
function timed(name: string, run: (round: number) => unknown): void {
  const wall: number[] = [];
  const cpu: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const [from, used] = [performance.now(), process.cpuUsage()];
    run(round);
    const { user, system } = process.cpuUsage(used);
    wall.push(performance.now() - from);
    cpu.push((user + system) / 1000);
  }
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!.toFixed(1);
  const [most] = [Math.max(...wall).toFixed(1)];
  console.log(`  ${name.padEnd(52)} ${median(cpu)} ms CPU, ${median(wall)} ms by the clock (worst ${most})`);
}

export function speed(): void {
  const mind = learner({ seed: 1, base: 4, mayBeWeak: MAY_BE_WEAK });
  const record: Practised[] = Array.from({ length: ATTEMPTS }, (_, n) => {
    const test = pooled({ kind: KINDS[n % 2]!, level: 4 + (n % 3), seed: n });
    const facts = { id: String(n).padStart(5, '0'), atMs: n * 4e6, order: n + 1, test };
    return practised({ ...facts, manner: 'strict', mark: countedMark(test, mind.answer(test)) });
  });
  const ask = (of: readonly Practised[], kind: 'melody' | 'rhythm') =>
    chooseNext({
      ...{ record: of, manner: 'strict', kind, level: 5, there: 85 },
      make: (request) => makeTest({ ...request, instrument: 'guitar' }),
    });
  // The first test of a level builds the level's stock (src/tests-engine/material): told apart.
  for (let level = 3; level <= 8; level++)
    for (const kind of KINDS) makeTest({ kind, level, seed: 1, instrument: 'guitar' });
  ask(record, 'melody');
  console.log(`Speed, ${ATTEMPTS} attempts in the record, stocks of the levels built`);
  timed('skill estimates from all (progress screen)', () => estimate(record, 'strict'));
  timed('all that a choice rests on, replayed', () => know(record, 'strict', 85));
  timed('choice, nothing kept (another student before)', (n) =>
    ask(n % 2 ? record : record.slice(0, -50), 'melody'),
  );
  timed('choice after one attempt more', (n) => ask(record.slice(0, 4960 + n), 'melody'));
  timed('choice of the other kind, same record', (n) => ask(record, n % 2 ? 'rhythm' : 'melody'));
}
