import { LIMITS } from '../../../music/schema/index.ts';
import type { HeardNote } from '../../../music/notes.ts';
import { bpm, TICKS_PER_QUARTER } from '../../../music/units.ts';
import { barTicks } from '../../../music/metre.ts';
import { readGrid, type GridReading } from './grid.ts';
import { estimateKey } from './key.ts';
import { readLengths } from './lengths.ts';
import { estimateTempo } from './tempo.ts';
import type { LineNote, Quantised, QuantiseOptions } from './types.ts';
import { placeLine, writeLine } from './write.ts';

const MOST_BARS = LIMITS.bars[1];
/** Half a semiquaver: what comes earlier belongs to the count. */
const EAGER_TICKS = TICKS_PER_QUARTER / 8;
/**
 * How late or early all of it may be: the round trip is known to some tens of ms where nothing bleeds, and
 * players lie within that of a click. Twice as far would be half a semiquaver at 120 bpm, another reading.
 */
const MOST_LATE_SEC = 0.06;
const LATE_STEP_SEC = 0.005;
/** One spread for being late all through: it is only believed where it explains the onsets better. */
const LATE_SPREAD_SEC = 0.03;
/** A note that the ear gives less than even odds. */
const UNSURE = 0.5;

interface Heard {
  readonly onset: number;
  readonly end: number;
  readonly note: HeardNote;
}

/** The grid at the one lateness that explains the onsets best. */
function readLate(
  heard: readonly Heard[],
  bars: number,
  { metre, swing }: QuantiseOptions,
  tickSec: number,
): { reading: GridReading; lateSec: number } {
  let best: { reading: GridReading; lateSec: number; cost: number } | null = null;
  for (let k = 0; k <= (2 * MOST_LATE_SEC) / LATE_STEP_SEC; k++) {
    // 0, then outwards, so that of equals the smallest is taken.
    const lateSec = Math.ceil(k / 2) * LATE_STEP_SEC * (k % 2 === 0 ? 1 : -1);
    const reading = readGrid(
      heard.map(({ onset }) => onset - lateSec / tickSec),
      metre,
      bars,
      swing,
      tickSec,
    );
    const cost = reading.cost + (lateSec / LATE_SPREAD_SEC) ** 2;
    if (reading.notes.length === heard.length && (!best || cost < best.cost))
      best = { reading, lateSec, cost };
  }
  return best!;
}

/**
 * What was played to a click, as written notes: each beat in semiquavers or triplet quavers by least error,
 * rests where notes were let go, spelled in the key, with string and fret in one hand position where there is
 * one. Ends of notes are rough to the ear, so lengths are proposals.
 *
 * @param notes times from beat 1 of bar 1 as the player heard it; sorted here.
 * @returns null where no note is left to write.
 * @throws RangeError for bars, tempo or swing out of range.
 */
export function quantise(notes: readonly HeardNote[], options: QuantiseOptions): Quantised | null {
  const { metre, swing, tuning } = options;
  if (
    options.bars !== null &&
    !(Number.isInteger(options.bars) && options.bars >= 1 && options.bars <= MOST_BARS)
  )
    throw new RangeError(`bars must be a whole number 1…${MOST_BARS}, got ${options.bars}`);
  if (options.tempoBpm !== null && !(options.tempoBpm >= 30 && options.tempoBpm <= 240))
    throw new RangeError(`tempo must be 30…240 crotchets a minute, got ${options.tempoBpm}`);
  if (!(swing >= 0.5 && swing <= 0.75)) throw new RangeError(`swing must be 0.5…0.75, got ${swing}`);
  const playable = notes
    .filter((note) => placeLine([note.midi], tuning)[0] !== null)
    .sort((a, b) => a.onsetSec - b.onsetSec);
  const first = playable[0];
  if (!first || (options.tempoBpm === null && playable.length < 2)) return null;
  const zeroSec = options.tempoBpm === null ? first.onsetSec : 0;
  const tempoBpm =
    options.tempoBpm === null
      ? estimateTempo(
          playable.map((note) => note.onsetSec - zeroSec),
          metre,
          swing,
        )
      : bpm(options.tempoBpm);
  const tickSec = 60 / tempoBpm / TICKS_PER_QUARTER;
  const inTicks = (atSec: number) => (atSec - zeroSec) / tickSec;
  const bar = barTicks(metre);
  const lastOnset = inTicks(playable[playable.length - 1]!.onsetSec) + EAGER_TICKS;
  const bars = options.bars ?? Math.min(MOST_BARS, Math.max(1, Math.floor(lastOnset / bar) + 1));
  const margin = MOST_LATE_SEC / tickSec;
  const heard = playable
    .map((note): Heard => ({ onset: inTicks(note.onsetSec), end: inTicks(note.offsetSec), note }))
    .filter(({ onset }) => onset >= -EAGER_TICKS - margin && onset < bars * bar - EAGER_TICKS - margin);
  if (heard.length === 0) return null;
  const { reading, lateSec } = readLate(heard, bars, options, tickSec);

  // Of two in one place the surer one is written.
  const kept: number[] = [];
  const crowded = new Set<number>();
  reading.notes.forEach(({ ticks }, i) => {
    const at = kept[kept.length - 1];
    if (at === undefined || reading.notes[at]!.ticks !== ticks) return kept.push(i);
    if (heard[i]!.note.confidence > heard[at]!.note.confidence) kept[kept.length - 1] = i;
    return crowded.add(ticks);
  });
  const starts = kept.map((i) => reading.notes[i]!.ticks);
  const lengths = readLengths(
    starts,
    kept.map((i) => heard[i]!.end - lateSec / tickSec),
    metre,
    bars,
    reading.grids,
    swing,
    tickSec,
  );
  const line = kept.map((i, k): LineNote => ({
    startTicks: starts[k]!,
    durationTicks: lengths[k]!,
    midi: heard[i]!.note.midi,
  }));
  const key = options.key ?? estimateKey(line);
  return {
    phrase: writeLine(line, { metre, bars, key, tuning }),
    tempoBpm,
    key,
    doubtful: kept.flatMap((i, k) =>
      reading.notes[i]!.doubtful || heard[i]!.note.confidence < UNSURE || crowded.has(starts[k]!) ? [k] : [],
    ),
    leftOut: notes.length - kept.length,
    lateSec,
  };
}
