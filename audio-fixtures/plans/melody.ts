import type { PlannedNote } from '../planned.ts';
import type { Random } from '../random.ts';

export interface Plan {
  readonly notes: readonly PlannedNote[];
  /** Long enough for the last note and a second after it. */
  readonly durationSec: number;
  readonly tempoBpm: number;
}

const SCALES = [
  [0, 3, 5, 7, 10], // minor pentatonic
  [0, 2, 4, 7, 9], // major pentatonic
] as const;
/** Note values of one 4/4 bar in quavers, summing to 8. */
const BARS = [
  [2, 2, 2, 2],
  [2, 1, 1, 2, 2],
  [1, 1, 2, 1, 1, 2],
  [3, 1, 2, 2],
  [1, 1, 1, 1, 2, 2],
  [2, 2, 4],
  [3, 1, 1, 1, 2],
  [1, 1, 1, 1, 1, 1, 2],
  [4, 2, 1, 1],
] as const;
/** Human timing: the deviation of onsets, as in the recipe this set follows. */
export const JITTER_SEC = [0.005, 0.016] as const;

/** A player's dynamics: accents on the beat, ordinary spread, and 4 % swallowed notes at −13 dB. */
export function strokeLevel(random: Random, onBeat: boolean): number {
  if (random.chance(0.04)) return -13;
  return (onBeat ? 1.5 : -1) + 1.5 * random.normal();
}

/** Two bars in a pentatonic scale, in steps and small leaps, now and then the same note again. */
export function melody(random: Random, lowest: number, highest: number): Plan {
  const tempoBpm = random.whole(60, 140);
  const quaver = 30 / tempoBpm;
  const scale = random.pick(SCALES);
  const tonic = random.whole(0, 11);
  const notesOfScale: number[] = [];
  for (let m = lowest; m <= highest; m++)
    if ((scale as readonly number[]).includes((m - tonic + 120) % 12)) notesOfScale.push(m);
  const jitter = random.between(...JITTER_SEC);
  let at = random.between(0.35, 0.9);
  let degree = random.whole(2, notesOfScale.length - 3);
  const notes: PlannedNote[] = [];
  const onsets: number[] = [];
  let position = 0;
  for (const bar of [random.pick(BARS), random.pick(BARS)])
    for (const value of bar) {
      const onset = at + jitter * random.normal();
      onsets.push(onset);
      notes.push({
        onsetSec: onset,
        durationSec: value * quaver,
        midi: notesOfScale[degree]!,
        levelDb: strokeLevel(random, position % 2 === 0),
      });
      at += value * quaver;
      position += value;
      const leap = random.chance(0.15) ? 0 : random.chance(0.75) ? 1 : random.whole(2, 3);
      const way = random.chance(0.5) ? 1 : -1;
      const wanted = degree + way * leap;
      degree = wanted < 0 || wanted >= notesOfScale.length ? degree - way * leap : wanted;
      degree = Math.max(0, Math.min(notesOfScale.length - 1, degree));
    }
  return { notes: joinUp(notes, onsets, random, 0.15), durationSec: at + 1, tempoBpm };
}

/** Before a rest the hand damps the string this often; else it rings through. */
const DAMPED_AT_REST = 0.7;

/** Lengths that run to the next onset, or are lifted early with probability `lifted`. */
export function joinUp(
  notes: readonly PlannedNote[],
  onsets: readonly number[],
  random: Random,
  lifted: number,
): PlannedNote[] {
  return notes.map((note, i) => {
    const whole = i + 1 < onsets.length ? onsets[i + 1]! - onsets[i]! : note.durationSec;
    const rest = whole > 1.3 * note.durationSec;
    if (rest && random.chance(DAMPED_AT_REST)) return note;
    return { ...note, durationSec: whole * (random.chance(lifted) ? random.between(0.5, 0.85) : 1) };
  });
}
