import { strokeLevel } from './melody.ts';
import type { Plan } from './melody.ts';
import type { PlannedNote } from '../planned.ts';
import type { Random } from '../random.ts';

const MINOR = [0, 2, 3, 5, 7, 8, 10];

/** Scale runs of notes 55–120 ms long, a longer one between runs. */
export function fastRuns(random: Random, lowest: number, highest: number): Plan {
  const scale: number[] = [];
  for (let m = lowest; m <= highest; m++) if (MINOR.includes((m - lowest) % 12)) scale.push(m);
  const notes: PlannedNote[] = [];
  let at = random.between(0.35, 0.8);
  for (let run = 0; run < 3; run++) {
    const length = random.between(0.055, 0.12);
    const count = random.whole(5, 9);
    let degree = random.whole(0, scale.length - 1);
    let way = degree > scale.length / 2 ? -1 : 1;
    for (let i = 0; i <= count; i++) {
      const durationSec = i === count ? random.between(0.4, 0.7) : length * random.between(0.93, 1.07);
      notes.push({
        onsetSec: at,
        durationSec,
        midi: scale[degree]!,
        levelDb: strokeLevel(random, i % 4 === 0),
      });
      at += durationSec;
      if (degree + way < 0 || degree + way >= scale.length || random.chance(0.1)) way = -way;
      degree = Math.max(0, Math.min(scale.length - 1, degree + way));
    }
  }
  return { notes, durationSec: at + 0.8, tempoBpm: 120 };
}

/** Semiquavers on one ringing string at 150–165 bpm, in groups of 4–12 with a breath between. */
export function rePlucks(random: Random, midi: number): Plan {
  const tempoBpm = random.whole(150, 165);
  const semiquaver = 15 / tempoBpm;
  const notes: PlannedNote[] = [];
  let at = random.between(0.35, 0.8);
  for (let group = 0; group < 4; group++) {
    const count = random.whole(4, 12);
    for (let i = 0; i < count; i++) {
      const last = i === count - 1;
      notes.push({
        onsetSec: at + 0.004 * random.normal(),
        durationSec: semiquaver * (last ? 3 : 1),
        midi,
        levelDb: strokeLevel(random, i % 4 === 0) - (i % 2 ? random.between(0, 3) : 0),
      });
      at += semiquaver * (last ? 4 : 1);
    }
  }
  const joined = notes.map((note, i) => {
    const gap = (notes[i + 1]?.onsetSec ?? Infinity) - note.onsetSec;
    return gap < 1.5 * semiquaver ? { ...note, durationSec: gap } : note;
  });
  return { notes: joined, durationSec: at + 0.8, tempoBpm };
}

/** One to three notes left to ring 2–5 s. */
export function sparse(random: Random, lowest: number, highest: number): Plan {
  const notes: PlannedNote[] = [];
  let at = random.between(0.6, 1.4);
  const count = random.whole(1, 3);
  for (let i = 0; i < count; i++) {
    const durationSec = random.between(2, 4.5);
    notes.push({
      onsetSec: at,
      durationSec,
      midi: random.whole(lowest, highest),
      levelDb: strokeLevel(random, true),
    });
    at += durationSec + (random.chance(0.5) ? random.between(0.3, 1) : 0);
  }
  return { notes, durationSec: at + 0.8, tempoBpm: 60 };
}
