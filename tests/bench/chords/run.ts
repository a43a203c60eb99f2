import { DRIVEN, makeStrum, RIGHT } from '../../../audio-fixtures/chords/index.ts';
import type { MadeStrum, StrumOrder } from '../../../audio-fixtures/chords/index.ts';
import { hearStrums, judgeStrum } from '../../../src/dsp/chords/index.ts';
import type { HeardStrum } from '../../../src/dsp/chords/index.ts';
import type { JudgedChord } from '../../../src/music/chords/index.ts';
import { baselineScores } from './baselines.ts';
import type { BaselineScores } from './baselines.ts';

/** One strum of the report, heard and judged. */
export interface Row {
  readonly order: StrumOrder;
  readonly made: Omit<MadeStrum, 'signal' | 'order'>;
  readonly right: boolean;
  readonly driven: boolean;
  /** Null where no strum was found within 80 ms. */
  readonly shape: JudgedChord | null;
  /** The same chord asked for by its classes alone. */
  readonly byName: JudgedChord | null;
  readonly errorMs: number | null;
  readonly fullMs: number | null;
  readonly extraStrums: number;
  readonly scores: BaselineScores | null;
  readonly cpuSec: number;
  readonly soundSec: number;
}

const NEAR_SEC = 0.08;

const cpu = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

export function rowOf(order: StrumOrder, baselines: boolean): Row | null {
  const made = makeStrum(order);
  if (!made) return null;
  const { signal, speed } = made;
  const firstSec = made.firstSec / speed;
  const driven = DRIVEN.includes(order.effect);
  const lowest = Math.min(...made.chord.tuning);
  const before = cpu();
  const strums = hearStrums(signal, 44_100);
  const near = (s: HeardStrum): number => Math.abs(s.firstSec - firstSec);
  const strum = [...strums].sort((a, b) => near(a) - near(b))[0];
  const found = strum && near(strum) < NEAR_SEC ? strum : null;
  const shape = found && judgeStrum(found, { shapes: [made.asked] }, { lowest, driven });
  const cpuSec = cpu() - before;
  const classes = [...new Set(made.asked.map((midi) => midi % 12))];
  const { chord, asked, sounding, tuningCents } = made;
  const lastSec = made.lastSec / speed;
  const untilSec = made.untilSec / speed;
  return {
    order,
    made: { chord, asked, sounding, tuningCents, speed, firstSec, lastSec, untilSec },
    right: RIGHT.includes(order.fault),
    driven,
    shape,
    byName: found && judgeStrum(found, { classes }, { lowest, driven }),
    errorMs: found && 1000 * (found.firstSec - firstSec),
    fullMs: found && 1000 * (found.fullSec - firstSec),
    // What rings when the recording begins is one for itself.
    extraStrums: strums.filter((s) => s !== found && s.firstSec > 0.05 && s.firstSec < untilSec - 0.02)
      .length,
    scores: found && baselines ? baselineScores(found.prepared, made.asked, lowest) : null,
    cpuSec,
    soundSec: signal.length / 44_100,
  };
}
