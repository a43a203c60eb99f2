import type { Random } from '../../../audio-fixtures/random.ts';
import type { Chart } from '../../../src/music/chart.ts';
import { barTicks } from '../../../src/music/metre.ts';
import type { ImprovisedFacts } from '../../../src/tests-engine/index.ts';
import { chordHere, near, type Meant } from '../../tests-engine/facts/lines.ts';

/** A line with a known property, and whether it is told. */
export interface Planted {
  readonly name: string;
  /** Crotchets a minute at most, so that its quavers can be played. */
  readonly fastest: number;
  readonly swing?: number;
  readonly biasMs?: number;
  line(chart: Chart, random: Random): Meant[];
  isTold(facts: ImprovisedFacts, chart: Chart): boolean;
}

const crotchets = (chart: Chart): number[] =>
  Array.from({ length: (chart.bars * barTicks(chart.metre)) / 480 }, (_, k) => k * 480);

/** Chord tones on the beats, near one another; never the same note twice running, which a ringing string hides. */
function chordTones(chart: Chart, random: Random, step = 480): Meant[] {
  let last = 62;
  return Array.from({ length: (chart.bars * barTicks(chart.metre)) / step }, (_, k) => k * step).map(
    (at): Meant => {
      const { tones, classes } = chordHere(chart, at);
      const pool = [...(at % 480 === 0 ? tones : classes)].map((pc) =>
        near(pc, Math.min(70, Math.max(57, last))),
      );
      last = random.pick(pool.filter((pitch) => pitch !== last));
      return [at, step, last];
    },
  );
}

const SHAPE = [
  [0, 240, 0],
  [240, 240, 1],
  [480, 480, 2],
  [960, 240, 0],
  [1200, 240, 2],
  [1440, 240, 4],
] as const;

/** The key's notes as steps, from a tonic in the middle of the neck. */
function onStep(chart: Chart, step: number): number {
  const { classes } = chordHere(chart, 0);
  const tonic = near([...chordHere(chart, 0).tones][0]!, 57);
  const scale = [...classes].map((pc) => (((pc - tonic) % 12) + 12) % 12).sort((a, b) => a - b);
  return tonic + 12 * Math.floor(step / scale.length) + scale[step % scale.length]!;
}

export const PLANTED: readonly Planted[] = [
  {
    name: 'chord notes on all strong beats',
    fastest: 110,
    line: chordTones,
    isTold: ({ harmony: { strongInChord: s } }) => s.of > 0 && s.count === s.of,
  },
  {
    name: 'an idea again a third higher (or what its scale has there)',
    fastest: 96,
    line: (chart) => {
      const bar = barTicks(chart.metre);
      return [0, 2].flatMap((from) =>
        SHAPE.map(([at, length, step]): Meant => [from * bar + at, length, onStep(chart, step + from)]),
      );
    },
    isTold: ({ ideas }) =>
      ideas.some(({ how, at, againAt }) => how === 'moved' && at.bar === 1 && againAt.bar === 3),
  },
  {
    name: 'nothing but roots',
    fastest: 120,
    line: (chart) =>
      crotchets(chart).map((at): Meant => [at, 480, near([...chordHere(chart, at).tones][0]!, 55)]),
    isTold: ({ harmony: { onRoot } }) => onRoot.of > 0 && onRoot.count >= 0.95 * onRoot.of,
  },
  {
    name: 'silent for a bar, and which',
    fastest: 120,
    line: (chart, random) => {
      const bar = barTicks(chart.metre);
      return chordTones(chart, random).filter(([at]) => Math.floor(at / bar) !== 1);
    },
    isTold: ({ phrases: { stops } }) => stops.length === 1 && stops[0]!.place.bar === 2,
  },
  {
    name: 'swing of two to one',
    fastest: 100,
    swing: 2 / 3,
    line: (chart, random) => chordTones(chart, random, 240),
    isTold: ({ timing: { swingRatio, swingPairs } }) =>
      swingPairs >= 4 && swingRatio !== null && Math.abs(swingRatio - 2) <= 0.4,
  },
  {
    name: '30 ms behind',
    fastest: 120,
    biasMs: 30,
    line: chordTones,
    isTold: ({ timing: { biasMs } }) => biasMs !== null && Math.abs(biasMs - 30) <= 8,
  },
];
