import { makeReading, type ReadingRequest } from '../tasks/reading/make.ts';
import type { ReadingTask } from '../../music/task.ts';
import type { Practised } from './types.ts';
import { writtenPartsOf, type WrittenPart } from './written.ts';
import { writtenEstimates } from './writtenEstimate.ts';

/** Pages looked at before one is turned up. */
const PAGES = 24;
/** What little is known of is worth a try: so much of the way from the chance to its lower limit. */
const DOUBT = 0.5;

/**
 * The next page: of {@link PAGES} fresh ones of the level the one whose notes ask most for what does not come off.
 * With nothing played yet the first of them. The same arguments give the same page.
 *
 * @param record of one student; those of other kinds and manners, and of pages written on something else, are passed over
 */
export function nextReading(
  record: readonly Practised[],
  manner: Practised['manner'],
  request: ReadingRequest,
): { readonly task: ReadingTask; readonly because: WrittenPart | null } {
  const known = new Map(
    writtenEstimates(record, 'reading', manner, request.shows ?? 'staff').map(({ part, chance, low }) => [
      part,
      1 - (chance - DOUBT * (chance - low)),
    ]),
  );
  const pages = Array.from({ length: known.size === 0 ? 1 : PAGES }, (_, i) =>
    makeReading({ ...request, seed: (request.seed + i * 0x9e3779b1) >>> 0 }),
  );
  let best = { task: pages[0]!, gain: -1, because: null as WrittenPart | null };
  for (const task of pages) {
    const shares = [...(writtenPartsOf(task) ?? [])].map(([part, notes]) => ({
      part,
      // Weakness squared: one part that fails often is worth more than many that seldom do.
      gain: (notes / task.phrase.notes.length) * (known.get(part) ?? 0) ** 2,
    }));
    const gain = shares.reduce((sum, share) => sum + share.gain, 0);
    const most = shares.reduce((a, b) => (b.gain > a.gain ? b : a), { part: null, gain: 0 } as {
      part: WrittenPart | null;
      gain: number;
    });
    if (gain > best.gain) best = { task, gain, because: most.part };
  }
  return { task: best.task, because: best.because };
}
