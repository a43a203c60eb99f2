import type { TestKind } from '../../music/score.ts';
import type { Choice } from '../../tests-engine/index.ts';
import type { Json } from '../../store/index.ts';
import { settings } from '../settings/settings.svelte.ts';
import { stringsOf } from './card.ts';
import { players, record } from './record.svelte.ts';
import { RULE, think } from './think/think.ts';

/**
 * What practice would bring next of a kind, for whoever plays now; null while the record cannot be read. Worked out
 * once after each attempt, and kept: the choice depends on the record and the settings alone.
 */
export async function nextOf(kind: TestKind): Promise<Choice | null> {
  const student = await players.player();
  if (!student) return null;
  const { manner, level, position } = settings.now;
  const { instrument } = student;
  const tuning = stringsOf(student);
  const { there } = players.usualThresholds;
  const rule = JSON.stringify([RULE, manner, level, there, instrument, tuning, position]);
  const choice = await record.use((store) =>
    store.derived.recall(student.id, `next ${kind}`, rule, async () => {
      const digests = await store.attempts.digests(student.id);
      const request = { record: digests, manner, kind, level, there };
      return (await think((far) => far.next({ request, instrument, tuning, position }))) as unknown as Json;
    }),
  );
  return choice as Choice | null;
}
