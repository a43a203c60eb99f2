import { weakChordsOf } from '../../tests-engine/index.ts';
import { settings } from '../settings/settings.svelte.ts';
import { players, record } from './record.svelte.ts';

/** Chords that go wrong for whoever plays now; none while the record cannot be read. */
export async function weakChords(): Promise<readonly string[]> {
  const student = await players.player();
  const digests = student && (await record.use((store) => store.attempts.digests(student.id)));
  return digests ? weakChordsOf(digests, settings.now.manner) : [];
}
