import { keeper, players, record, unsaved } from '../record/record.svelte.ts';
import { all as keptPieces, trackOf } from '../pieces/kept.ts';
import { play } from '../programme/goOn.ts';
import { freshSeed } from '../session/choose.ts';
import { session } from '../session.svelte.ts';
import { ears } from '../state/ears.svelte.ts';
import { goTo } from '../state/route.svelte.ts';
import { freshId } from '../screens/phrases/kept.svelte.ts';
import { SittingDesk } from './desk.svelte.ts';

/** The sitting of this browser. */
export const sittingDesk: SittingDesk = new SittingDesk({
  disk: record,
  player: () => players.player(),
  now: Date.now,
  newId: freshId,
  seed: freshSeed,
  taken: () => ({
    state: session.state,
    storing: session.storing,
    unmarked: session.unmarked,
    marked: session.marked,
    sittingId: session.programme.from === 'sitting' ? session.programme.sittingId : null,
  }),
  attemptId: () => keeper.last?.id ?? unsaved.list.at(-1)?.id ?? null,
  counted: (marked) => keeper.counted(marked, session.state!, session.programme),
  leave() {
    goTo('/sitting/now', true);
    session.stop();
  },
  play: (task, sittingId) => play(session, task, 'strict', { from: 'sitting', sittingId }),
  async piece(trackId) {
    const task = (await keptPieces()).find(({ track }) => track.id === trackId);
    if (!task) return null;
    const sound = await ears.open();
    if (sound.tracks.has(trackId)) return task;
    const kept = await trackOf(task);
    return kept && (await sound.tracks.bring(kept.bytes)) ? task : null;
  },
  over: (id) => goTo(`/sitting/${id}`, true),
});
