import { coming, type Manner, type Programme, type Standing, type Task } from '../../tests-engine/index.ts';
import { broughtPiece } from '../../music/task.ts';
import { pieceDesk } from '../pieces/desk.svelte.ts';
import { ears } from '../state/ears.svelte.ts';
import { weakChords } from '../record/chords.ts';
import { nextAsked } from './asked.ts';
import { nextOf } from '../record/next.ts';
import { freshSeed, prepareFor, testFor } from '../session/choose.ts';
import type { Session } from '../session/session.svelte.ts';
import { settings } from '../settings/settings.svelte.ts';
import { go, goTo } from '../state/route.svelte.ts';

/** Carries out what the programme says comes after a task. */
export async function goOn(session: Session, programme: Programme, last: Task): Promise<void> {
  const { manner } = settings.now;
  const weak = programme.from === 'chords' ? await weakChords() : [];
  const next = coming(programme, last, freshSeed, weak);
  if (next.do === 'page')
    return programme.from === 'homework' ? goTo(`/homework/${programme.homeworkId}`) : go(next.page);
  if (next.do === 'begin') return session.begin(next.task, manner, next.programme);
  if (next.do === 'ask') {
    const task = await nextAsked(programme, last);
    return task
      ? session.begin(task, manner, programme)
      : go(programme.from === 'scales' ? 'scales' : 'read');
  }
  const chosen = next.do === 'choose' ? await nextOf(next.kind) : null;
  if (chosen) return session.begin(chosen.test, manner, programme);
  await prepareFor(settings.now);
  return session.begin(testFor(settings.now, freshSeed()), manner, programme);
}

/** Takes up what an earlier page left: the task that was not played to its end, or what comes after it. */
export async function takeUp(session: Session, { programme, task, manner, done }: Standing): Promise<void> {
  if (!done) return play(session, task, manner, programme);
  go('test');
  await goOn(session, programme, task);
}

/** Opens the test page with this task. */
export function play(session: Session, task: Task, manner: Manner, programme: Programme): void {
  const piece = broughtPiece(task);
  if (piece && !ears.sound?.tracks.has(piece.track.id)) {
    pieceDesk.missing = piece;
    return go('piece');
  }
  go('test');
  void session.begin(task, manner, programme);
}
