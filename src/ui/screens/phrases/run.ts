import type { Task } from '../../../music/task.ts';
import type { Programme } from '../../../tests-engine/index.ts';
import { play } from '../../programme/goOn.ts';
import { session } from '../../session.svelte.ts';
import { settings } from '../../settings/settings.svelte.ts';
import { whenReady } from '../../state/ready.ts';

/**
 * Begins this very test, in the manner of the settings; `programme` says what comes after it. Where something of the
 * sound check is still to be answered that comes first.
 */
export function runTest(test: Task, programme: Programme): void {
  whenReady(() => play(session, test, settings.now.manner, programme));
}
