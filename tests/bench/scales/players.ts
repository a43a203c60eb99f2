import type { PlannedNote } from '../../../audio-fixtures/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { performedSec } from '../../../src/music/time.ts';
import { bpm } from '../../../src/music/units.ts';
import { placeAt, type ScaleEntry, type ScaleTarget } from '../../../src/tests-engine/index.ts';

export interface ScalePerformance {
  readonly notes: readonly PlannedNote[];
  /** The tempo that was played, crotchets a minute; the same as asked. */
  readonly tempoBpm: number;
  /** Target index of a note that came late, and by how much; null in an even take. */
  readonly late: { readonly note: number; readonly ms: number } | null;
}

/** Deviation of onsets about the beat, s: practised hands. */
const JITTER_SEC = [0.003, 0.01] as const;
/** Swing of quavers where an entry swings: two to one. */
export const SWING = 2 / 3;

/** Plays a scale. @param waits whether one note, where the hands have something to do, comes 80…160 ms late and all after it. */
export function playScale(
  entry: ScaleEntry,
  target: ScaleTarget,
  tempo: number,
  waits: boolean,
  seed: number,
): ScalePerformance {
  const random = makeRandom(seed);
  const { notes } = target.phrase;
  const pace = { tempoBpm: bpm(tempo), swing: entry.swung ? SWING : 0.5 };
  const onsets = notes.map((note) => performedSec(note.startTicks, pace) as number);
  const jitter = random.between(...JITTER_SEC);
  const lead = random.between(0.6, 1.4);
  const midis = notes.map(({ midi }) => ({ midi, onsetSec: 0 }));
  const places = notes
    .map((_, i) => i)
    .filter(
      (i) =>
        i > 1 &&
        i < notes.length - 1 &&
        placeAt({ target: midis, fingers: target.fingers }, i).kind !== 'plain',
    );
  const late = waits && places.length > 0 ? { note: random.pick(places), ms: random.between(80, 160) } : null;
  const struck = onsets.map(
    (t, i) => lead + t + jitter * random.normal() + (late && i >= late.note ? late.ms / 1000 : 0),
  );
  return {
    tempoBpm: tempo,
    late,
    notes: notes.map((note, i) => ({
      onsetSec: struck[i]!,
      durationSec:
        i + 1 < notes.length
          ? Math.max(0.04, struck[i + 1]! - struck[i]!)
          : Math.min(1.5, (note.durationTicks / 480) * (60 / tempo)),
      midi: note.midi,
      levelDb: (i % 2 ? -0.7 : 0.7) + 1.2 * random.normal(),
    })),
  };
}
