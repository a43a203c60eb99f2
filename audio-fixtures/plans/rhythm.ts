import { JITTER_SEC, joinUp, strokeLevel } from './melody.ts';
import type { Plan } from './melody.ts';
import type { PlannedNote } from '../planned.ts';
import type { Random } from '../random.ts';

/** One beat in semiquavers; negative = a rest. */
const BEATS = [
  [4],
  [2, 2],
  [2, 1, 1],
  [1, 1, 2],
  [3, 1],
  [-2, 2],
  [-4],
  [1, 1, 1, 1],
  [2, -2],
  [1, 2, 1],
] as const;
const WEIGHTS = [5, 8, 5, 4, 3, 3, 1, 1, 2, 1] as const;

function pickBeat(random: Random): readonly number[] {
  let left = random.whole(
    1,
    WEIGHTS.reduce((a, b) => a + b, 0),
  );
  for (let i = 0; i < BEATS.length; i++) if ((left -= WEIGHTS[i]!) <= 0) return BEATS[i]!;
  return BEATS[0];
}

/** Two bars of 4/4 on one string: quavers, semiquaver pairs, dotted figures and rests; every note the same. */
export function rhythm(random: Random, midi: number, tempos: readonly [number, number] = [60, 140]): Plan {
  const tempoBpm = random.whole(...tempos);
  const semiquaver = 15 / tempoBpm;
  const jitter = Math.min(random.between(...JITTER_SEC), semiquaver / 8);
  let at = random.between(0.35, 0.9);
  const notes: PlannedNote[] = [];
  const onsets: number[] = [];
  for (let beat = 0; beat < 8; beat++) {
    const values = beat === 0 ? random.pick([BEATS[0], BEATS[1], BEATS[2]]) : pickBeat(random);
    values.forEach((value, i) => {
      if (value > 0) {
        const onset = at + jitter * random.normal();
        onsets.push(onset);
        notes.push({
          onsetSec: onset,
          durationSec: value * semiquaver,
          midi,
          levelDb: strokeLevel(random, i === 0),
        });
      }
      at += Math.abs(value) * semiquaver;
    });
  }
  return { notes: joinUp(notes, onsets, random, 0.25), durationSec: at + 1, tempoBpm };
}
