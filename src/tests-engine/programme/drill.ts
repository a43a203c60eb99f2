import type { PracticeTest, TestKind } from '../../music/score.ts';
import { barTicks } from '../../music/metre.ts';
import { sec, TICKS_PER_QUARTER } from '../../music/units.ts';
import { FIGURES, levelTest, LEVELS, type LevelParameters } from '../material/index.ts';
import { handlerOf } from '../tasks/index.ts';
import type { Drill } from './drillSchema.ts';

/** How many phrases are tried for the one with most of the chosen intervals: a fifth of a second at most. */
const TRIED = 24;
/** With so many of its moves as chosen a phrase need not be better. */
const ENOUGH = 0.8;

/** Share of a phrase's moves that are of the chosen sizes, 0…1; a repeated note is no move. */
export function shareOf(
  { phrase: { notes } }: Pick<PracticeTest, 'phrase'>,
  intervals: readonly number[],
): number {
  const moves = notes.slice(1).map(({ midi }, i) => Math.abs(midi - notes[i]!.midi));
  const real = moves.filter((size) => size > 0);
  return real.length === 0 ? 0 : real.filter((size) => intervals.includes(size)).length / real.length;
}

/** Share of a phrase's beats that the figure fills, 0…1. */
export function shareOfFigure({ phrase }: Pick<PracticeTest, 'phrase'>, id: string): number {
  const parts = FIGURES.find((one) => one.id === id)?.parts ?? [];
  const length = parts.reduce((sum, part) => sum + Math.abs(part), 0);
  const strikes: number[] = [];
  parts.reduce((at, part) => (part > 0 && strikes.push(at), at + Math.abs(part)), 0);
  const starts = phrase.notes.map(({ startTicks }) => startTicks as number);
  const whole = phrase.bars * barTicks(phrase.metre);
  let filled = 0;
  for (let from = 0; from + length <= whole; from += TICKS_PER_QUARTER) {
    const inside = starts.filter((at) => at >= from && at < from + length).map((at) => at - from);
    if (inside.length !== strikes.length || inside.some((at, i) => at !== strikes[i])) continue;
    filled += length;
    from += length - TICKS_PER_QUARTER;
  }
  return filled / whole;
}

/** The level loosened so that what is drilled fills it. */
function levelFor({ what, level, intervals, figure: id }: Drill): LevelParameters {
  const own = LEVELS[level - 1]!;
  // Bars of four alone: every figure that can be chosen fits them.
  const four = own.metres.filter(({ metre }) => metre === '4/4');
  const [first] = LEVELS[1]!.metres;
  const metres = (four.length > 0 ? four : [first!]).map(({ melodyLength: _, ...at }) => ({
    ...at,
    ...{ melodyBars: 2, rhythmBars: 2, melodyNotes: [1, 16], rhythmNotes: [1, 16] },
  })) as unknown as LevelParameters['metres'];
  const loose = { ...own, metres, melodyBand: null, rhythmBand: null };
  if (what === 'answer') return loose;
  if (what === 'figure') {
    // Crotchets and pairs of quavers set the figure off; without them there would be no second rhythm to tell it from.
    const figures = [...new Set([id, 'crotchet', 'quavers'])];
    const question = { leastTicks: 120, moves: 1 } as const;
    return { ...loose, melodyFigures: figures, rhythmFigures: figures, tiesOverBars: false, question };
  }
  const widest = Math.max(...intervals);
  return {
    ...loose,
    maxLeap: Math.max(widest, 4),
    leapsPerBar: widest >= 5 ? 3 : own.leapsPerBar,
    maxStringCross: Math.max(own.maxStringCross, widest > 7 ? 3 : 2),
    ranges: own.ranges.map(([low, high]) => [low, Math.max(high, low + widest + 2)] as const),
  };
}

/** Whose hands. */
export interface DrillPlayer {
  readonly instrument: PracticeTest['instrument'];
  readonly tuning: readonly number[];
}

/**
 * A test for this drill; the same seed gives the same. It belongs to no level: what is drilled says nothing of one.
 * @throws RangeError naming what cannot be met together
 */
export function drillTest(drill: Drill, player: DrillPlayer, seed: number): PracticeTest {
  const { what, tempoBpm, style, practiceSec, position } = drill;
  const kind: TestKind = what === 'figure' ? 'rhythm' : 'melody';
  const level = levelFor(drill);
  const made = (at: number): PracticeTest => {
    const test = levelTest(level, {
      ...{ kind, seed: at >>> 0, instrument: player.instrument, tuning: player.tuning },
      ...(tempoBpm === null ? {} : { tempoBpm }),
      ...(style === null ? {} : { style }),
      ...(position === null || what === 'figure' ? {} : { position }),
      // A bar that is called is answered at once.
      procedure: { hearings: what === 'answer' ? 1 : 2, ...(practiceSec === null ? {} : { practiceSec }) },
    });
    return practiceSec === null && what === 'answer'
      ? { ...test, procedure: { ...test.procedure, practiceSec: sec(0) } }
      : test;
  };
  if (what === 'answer') {
    const whole = made(seed);
    const bar = handlerOf(whole).sounded(whole, { tempoFactor: 1, half: 'first' });
    return { ...(bar as PracticeTest), level: null, seed: null };
  }
  let best: PracticeTest | null = null;
  let share = -1;
  let why: unknown = null;
  for (let i = 0; i < TRIED && share < ENOUGH; i++) {
    try {
      const test = made(seed + i * 7919);
      const found = what === 'figure' ? shareOfFigure(test, drill.figure) : shareOf(test, drill.intervals);
      if (found > share) [best, share] = [test, found];
    } catch (error) {
      why = error;
    }
  }
  if (!best) throw why;
  return best;
}
