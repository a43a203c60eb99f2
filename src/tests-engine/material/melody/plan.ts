import type { LevelMetre, LevelParameters } from '../levels/types.ts';
import { METRES, barParts, barTicks } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import { pairs } from '../rhythm/pairs.ts';
import { type Stretch, join, opens, partStock } from '../rhythm/parts.ts';

/** The rhythms melodies of one level and metre can have; `size` of them, told apart by their onsets. */
export interface RhythmPlans {
  readonly size: number;
  /** The plan of this number; what is not fixed by the number (bar 3 of four) is drawn. */
  plan(number: number, random: Random): RhythmPlan;
}

export interface RhythmPlan {
  readonly onsets: readonly number[];
  readonly durations: readonly number[];
  /** Notes on a stress: the start of either part of a bar. */
  readonly strong: readonly boolean[];
  /** First notes of the bars that take up the opening figure, and how many notes of it they share. */
  readonly answers: readonly number[];
  readonly opening: number;
}

/** Enough for every list of whole lines (lines.ts), and some hundred kB at most. */
const MOST_FIXED = 2000;

/** One long note that fills these beats. */
const close = (ticks: number): Stretch => ({ ticks, events: [{ ticks, kind: 'note' }], onsets: [0] });

/**
 * Two bars: a + b | a + rest. Four bars: a + b | a + c | d | a + rest. The figure `a` is heard again before
 * anything varies it, and the last note fills what is left of its bar from a stress on (in 3/4, whose second
 * beat is weak, it is the whole bar).
 * @param groups bar 3 of four takes up bar 1 instead of bringing a new figure d.
 */
export function rhythmPlans(level: LevelParameters, at: LevelMetre, groups: boolean): RhythmPlans {
  const metre = METRES[at.metre];
  const bar = barTicks(metre);
  const [firstBeats, secondBeats] = barParts(at.metre);
  const additive = metre.beatUnit === 8;
  const firsts = partStock(level.melodyFigures, firstBeats, additive, level.tiesOverBars);
  const seconds = partStock(level.melodyFigures, secondBeats, additive);
  const [fewest, most] = at.melodyNotes;
  const bars = pairs(firsts.filter(opens), seconds, fewest, most);
  const middles = pairs(firsts, seconds, fewest, most);
  if (bars.size === 0)
    throw new RangeError(
      `the figures of level "${level.name}" give no bar of ${at.metre} with ${fewest}–${most} notes; allow more figures or other numbers of notes`,
    );
  const ending = (a: Stretch): readonly Stretch[] =>
    at.metre === '3/4' ? [close(bar)] : [a, close(bar - a.ticks)];
  const size = at.melodyBars === 2 ? bars.size : bars.size * seconds.length;
  // The second beat of 3/4, where its bar divides here, bears no stress.
  const second = at.metre === '3/4' ? 0 : firstBeats.reduce((sum, ticks) => sum + ticks, 0);
  const later = groups ? [1, 2, 3] : [1, 3];
  const answerBars = at.melodyBars === 2 || at.metre === '3/4' ? [1] : later;
  /** Two bars are fixed by their number: those of a short list are laid out once. */
  const fixed = new Map<number, RhythmPlan>();
  return {
    size,
    plan(number, random) {
      const known = fixed.get(number);
      if (known) return known;
      const [a, b] = bars.at(number % bars.size);
      let stretches: Stretch[];
      if (at.melodyBars === 2) stretches = [a, b, ...ending(a)];
      else {
        const c = seconds[Math.floor(number / bars.size)]!;
        // What comes again is grouped, and a group is kept as one thing.
        const third = groups ? ([a, b] as const) : middles.at(random.below(middles.size));
        stretches = [a, b, a, c, ...third, ...ending(a)];
      }
      const { onsets, durations } = join(stretches);
      const plan: RhythmPlan = {
        onsets,
        durations,
        strong: onsets.map((onset) => onset % bar === 0 || onset % bar === second),
        answers: answerBars.map((n) => onsets.indexOf(n * bar)),
        opening: Math.max(2, a.onsets.length),
      };
      if (at.melodyBars === 2 && fixed.size < MOST_FIXED) fixed.set(number, plan);
      return plan;
    },
  };
}
