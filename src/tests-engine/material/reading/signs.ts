import type { Metre } from '../../../music/score.ts';
import { barTicks, beatLengths } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import type { FormBar } from './form.ts';
import type { LineNote } from './line.ts';
import type { DynamicWord, PageSign, ReadingLevel } from './types.ts';

/** Loudness of the phrases: the question, its answer, the end. Common practice, no source. */
const PLANS: readonly (readonly [DynamicWord, DynamicWord, DynamicWord])[] = [
  ['mf', 'p', 'f'],
  ['mp', 'f', 'mp'],
  ['f', 'mp', 'f'],
  ['p', 'mf', 'p'],
];

/**
 * Dynamics at the beginning of each phrase and a hairpin into some cadences; accents on notes off the beat that are
 * held over it, dots on single crotchets and quavers before rests. Printed, not judged.
 */
export function drawSigns(
  level: ReadingLevel,
  form: readonly FormBar[],
  notes: readonly LineNote[],
  metre: Metre,
  random: Random,
): PageSign[] {
  if (level.signs === 'none') return [];
  const bar = barTicks(metre);
  const plan = random.pick(PLANS);
  const ends = form.flatMap(({ cadence }, b) => (cadence ? [b] : []));
  const signs: PageSign[] = [];
  ends.forEach((end, phrase) => {
    const from = phrase === 0 ? 0 : ends[phrase - 1]! + 1;
    const first = notes.find((note) => note.bar >= from)!;
    signs.push({ kind: 'dynamic', atTicks: first.startTicks, word: plan[phrase % 3]! });
    const next = plan[(phrase + 1) % 3]!;
    if (end - from >= 3 && phrase + 1 < ends.length && random.chance(2, 3))
      signs.push({
        kind: LOUD.indexOf(next) > LOUD.indexOf(plan[phrase % 3]!) ? 'louder' : 'softer',
        fromTicks: (end - 1) * bar,
        toTicks: end * bar,
      });
  });
  if (level.signs === 'dynamics') return signs;
  const beats: number[] = [];
  beatLengths(metre).reduce((sum, ticks) => (beats.push(sum), sum + ticks), 0);
  notes.forEach((note, i) => {
    const onBeat = beats.includes(note.startTicks % bar);
    const next = notes[i + 1]?.startTicks ?? 0;
    if (!onBeat && note.durationTicks >= 480 && random.chance(2, 3)) signs.push({ kind: 'accent', note: i });
    else if (
      onBeat &&
      next > note.startTicks + note.durationTicks &&
      note.durationTicks <= 480 &&
      random.chance(1, 2)
    )
      signs.push({ kind: 'staccato', note: i });
    else if (onBeat && note.durationTicks === 480 && random.chance(1, 12))
      signs.push({ kind: 'tenuto', note: i });
  });
  return signs;
}
const LOUD: readonly DynamicWord[] = ['p', 'mp', 'mf', 'f'];
