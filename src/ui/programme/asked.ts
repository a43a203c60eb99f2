import { namedScale } from '../../music/task.ts';
import {
  nextEntry,
  nextReading,
  scaleId,
  scalesOf,
  type Asked,
  type Practised,
  type Programme,
  type ScaleEntry,
  type Task,
} from '../../tests-engine/index.ts';
import { players, record } from '../record/record.svelte.ts';
import { freshSeed } from '../session/choose.ts';
import { settings } from '../settings/settings.svelte.ts';

const DAY_MS = 86_400_000;

/** What was played by whoever plays now; empty where there is no record to be had. */
async function digests(): Promise<readonly Practised[]> {
  const student = await players.player();
  const all = student && (await record.use((store) => store.attempts.digests(student.id)));
  return all ?? [];
}

/** What is known of each entry of a list, oldest first. */
export function historiesOf(entries: readonly ScaleEntry[], played: readonly Practised[]): Asked[][] {
  const found = new Map<string, Asked[]>();
  for (const { scale, atMs, mark } of [...played].sort((a, b) => a.order - b.order)) {
    if (scale === undefined) continue;
    found.set(scale, [...(found.get(scale) ?? []), { day: atMs / DAY_MS, mark }]);
  }
  return entries.map((entry) => found.get(scaleId(entry)) ?? []);
}

/** The histories of a list's entries in the manner played now. */
export async function listHistories(entries: readonly ScaleEntry[]): Promise<Asked[][]> {
  const { manner } = settings.now;
  return historiesOf(
    entries,
    (await digests()).filter((one) => one.manner === manner),
  );
}

type AskedProgramme = Extract<Programme, { from: 'scales' | 'reading' }>;

/** Which scale of its list is asked next; null where none of it can be played on this instrument. */
async function nextScale(
  programme: Extract<Programme, { from: 'scales' }>,
  last: Task | null,
): Promise<Task | null> {
  const { list, level, tuning, click } = programme;
  const seed = freshSeed();
  const playable = scalesOf({ list, tuning, click, level, seed });
  if (playable.length === 0) return null;
  const histories = await listHistories(playable.map(({ named }) => named));
  const asked = last && namedScale(last);
  const before = asked ? scaleId(asked.named) : null;
  const at = playable.findIndex(({ named }) => scaleId(named) === before);
  return playable[nextEntry(histories, at < 0 ? null : at, Date.now() / DAY_MS, seed)]!;
}

/** What is asked next: the record decides. null where nothing can be. */
export async function nextAsked(programme: Programme, last: Task | null): Promise<Task | null> {
  const asked = programme as AskedProgramme;
  if (asked.from === 'scales') return nextScale(asked, last);
  const { level, instrument, tuning, shows, click, prepareClick, prepareSec } = asked;
  const request = {
    ...{ level, instrument, seed: freshSeed() },
    ...(tuning ? { tuning } : {}),
    ...(shows ? { shows } : {}),
    ...(click === undefined ? {} : { click }),
    ...(prepareClick === undefined ? {} : { prepareClick }),
    ...(prepareSec === undefined ? {} : { prepareSec }),
  };
  return nextReading(await digests(), settings.now.manner, request).task;
}
