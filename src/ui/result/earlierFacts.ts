import type { Attempt } from '../../store/index.ts';
import { wasHeard, type Fact } from '../../tests-engine/index.ts';
import { record } from '../record/record.svelte.ts';

/** As many of the newest takes are looked through, for the few that can be compared. */
const LOOKED_THROUGH = 100;
const COMPARED = 10;

/** What was told of the same player's improvisations before this one, newest first; nothing while it is not kept. */
export async function earlierFacts(attempt: Attempt | null): Promise<readonly (readonly Fact[])[]> {
  if (!attempt) return [];
  const { studentId, order } = attempt;
  const found = await record.use((store) => store.attempts.newest(studentId, LOOKED_THROUGH, order));
  return (found ?? [])
    .flatMap(({ mark }) => (mark.type === 'described' && wasHeard(mark) ? [mark.facts] : []))
    .slice(0, COMPARED);
}
