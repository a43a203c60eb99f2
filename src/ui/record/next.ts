import type { PracticeTest, TestKind } from '../../score.ts';
import { chooseNext, DEFAULT_THRESHOLDS, makeTest } from '../../tests-engine/index.ts';
import type { Choice } from '../../tests-engine/index.ts';
import { tuningOf } from '../session/choose.ts';
import { settings } from '../settings/settings.svelte.ts';
import { record } from './record.svelte.ts';

/** What practice would bring next of a kind, for whoever plays now; null while the record cannot be read. */
export async function nextOf(kind: TestKind): Promise<Choice | null> {
  const student = await record.player();
  if (!student) return null;
  const now = settings.now;
  const digests = await record.use((store) => store.attempts.digests(student.id));
  const { instrument } = student;
  const strings = tuningOf({ ...now, instrument }).strings;
  return chooseNext({
    record: digests ?? [],
    manner: now.manner,
    kind,
    level: now.level,
    there: DEFAULT_THRESHOLDS.there,
    make: (request): PracticeTest => makeTest({ ...request, instrument, tuning: strings }),
  });
}
