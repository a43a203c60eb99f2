import { describe, expect, it } from 'vitest';
import { barTicks } from '../../../src/music/metre.ts';
import { bpm } from '../../../src/music/units.ts';
import { improvisedFacts, makeChart, sentences } from '../../../src/tests-engine/index.ts';
import type { Chart } from '../../../src/music/chart.ts';
import { makeRandom } from '../../../src/tests-engine/material/random/random.ts';
import { chordHere, near, played, quaverLine, type Meant } from './lines.ts';

const SEEDS = Array.from({ length: 20 }, (_, i) => i + 1);
const LEVELS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
/** A good amateur against a click: E. Repp, "Sensorimotor synchronization" (2005), gives 10–30 ms; from memory. */
const HUMAN_MS = 12;

/** Charts of all levels in 4/4, which is what the planted lines are written in. */
const charts = LEVELS.flatMap((level) => SEEDS.map((seed) => makeChart({ level, seed }))).filter(
  ({ metre }) => metre.beats === 4,
);

/** In how many of the charts it is told right; at least 19 in 20 are asked. */
function toldRight(right: (chart: Chart, seed: number) => boolean): void {
  const wrong = charts.filter((chart, i) => !right(chart, i));
  expect(
    wrong.length / charts.length,
    wrong
      .slice(0, 3)
      .map((c) => JSON.stringify(c))
      .join('\n'),
  ).toBeLessThanOrEqual(0.05);
}

describe('what is planted in a line is told', () => {
  it('chord tones on all strong beats', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const line = played(chart, quaverLine(chart, random), { random, spreadMs: HUMAN_MS });
      const { count, of } = improvisedFacts(line).harmony.strongInChord;
      return of >= 2 * chart.bars - 1 && count === of;
    });
  });

  it('none on strong beats', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const notes = quaverLine(chart, random).map(([at, length, pitch]): Meant => {
        const { tones, classes } = chordHere(chart, at);
        const others = [...classes].filter((pc) => !tones.has(pc));
        return at % 960 === 0 ? [at, length, near(random.pick(others), pitch)] : [at, length, pitch];
      });
      const facts = improvisedFacts(played(chart, notes, { random, spreadMs: HUMAN_MS }));
      return facts.harmony.strongInChord.count === 0;
    });
  });

  it('nothing but roots, with the advice to leave them', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const notes: Meant[] = [];
      for (let at = 0; at < chart.bars * barTicks(chart.metre); at += 480)
        notes.push([at, 480, near([...chordHere(chart, at).tones][0]!, 55)]);
      const facts = improvisedFacts(played(chart, notes, { random, spreadMs: HUMAN_MS }));
      const { count, of } = facts.harmony.onRoot;
      return count === of && sentences(facts).at(-1)!.code === 'try-other-than-root';
    });
  });

  it('an idea that comes again a third higher, where it does', () => {
    // Six notes of the key, quavers and crotchets, in bar 1 and two steps higher in bar 3.
    const rhythm = [0, 240, 480, 960, 1200, 1440];
    const shape = [0, 1, 2, 0, 2, 4];
    toldRight((chart, seed) => {
      if (!['major', 'minor', 'dorian', 'mixolydian'].includes(chart.key.scale)) return true;
      const random = makeRandom(seed);
      const steps = { major: [0, 2, 4, 5, 7, 9, 11], minor: [0, 2, 3, 5, 7, 8, 10], dorian: [0, 2, 3, 5, 7, 9, 10], mixolydian: [0, 2, 4, 5, 7, 9, 10] }[
        chart.key.scale
      ]!; // prettier-ignore
      const tonic = near('C D EF G A B'.indexOf(chart.key.tonic[0]!) + signs(chart.key.tonic), 57);
      const pitch = (step: number): number => tonic + 12 * Math.floor(step / 7) + steps[step % 7]!;
      const bar = barTicks(chart.metre);
      const said = (from: number, up: number): Meant[] =>
        rhythm.map((at, i) => [from + at, i === 2 ? 480 : 240, pitch(shape[i]! + up)]);
      const facts = improvisedFacts(
        played(chart, [...said(0, 0), ...said(2 * bar, 2)], { random, spreadMs: HUMAN_MS }),
      );
      return facts.ideas.some(
        ({ how, steps: moved, at, againAt, notes }) =>
          how === 'moved' && moved === 2 && at.bar === 1 && againAt.bar === 3 && notes === 6,
      );
    });
  });

  it('a stop of a bar, and where it begins', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const bar = barTicks(chart.metre);
      const from = (1 + random.below(chart.bars - 2)) * bar;
      const notes = quaverLine(chart, random).filter(([at]) => at < from || at >= from + bar);
      const ringSec = 0.3 * (seed % 2);
      const facts = improvisedFacts(played(chart, notes, { random, spreadMs: HUMAN_MS, ringSec }));
      return facts.phrases.stops.length === 1 && facts.phrases.stops[0]!.place.bar === from / bar + 1;
    });
  });

  it('swing of two to one, and straight quavers', () => {
    for (const [swing, told] of [
      [2 / 3, 2],
      [0.5, 1],
    ] as const)
      toldRight((chart, seed) => {
        const random = makeRandom(seed);
        const slow = { ...chart, tempoBpm: bpm(Math.min(120, chart.tempoBpm)) };
        const facts = improvisedFacts(
          played(slow, quaverLine(slow, random), { random, spreadMs: HUMAN_MS, swing }),
        );
        const { swingRatio, swingPairs } = facts.timing;
        return swingPairs >= 4 && Math.abs(swingRatio! - told) <= 0.2 * told;
      });
  });

  it('thirty milliseconds behind', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const facts = improvisedFacts(
        played(chart, quaverLine(chart, random), { random, spreadMs: HUMAN_MS, biasMs: 30 }),
      );
      return Math.abs(facts.timing.biasMs! - 30) <= 8;
    });
  });

  it('how every change was met: by the third, by nothing, by a tone held over', () => {
    toldRight((chart, seed) => {
      const random = makeRandom(seed);
      const changes = chart.chords.slice(1).map(({ startTicks }) => startTicks as number);
      const thirds = changes.map((at): Meant => [at, 240, near([...chordHere(chart, at).guides][0]!, 60)]);
      const facts = improvisedFacts(played(chart, thirds, { random, spreadMs: HUMAN_MS }));
      const none = improvisedFacts(played(chart, [[0, 240, 60]], { random }));
      return (
        facts.harmony.changes.every(({ met }) => met === 'guide') &&
        none.harmony.changes.every(({ met }) => met === 'none')
      );
    });
  });
});

const signs = (name: string): number => (name.endsWith('#') ? 1 : name.endsWith('b') ? -1 : 0);
