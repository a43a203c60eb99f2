import type { Chart } from '../../../src/music/chart.ts';
import { barTicks } from '../../../src/music/metre.ts';
import type { HeardNote } from '../../../src/music/notes.ts';
import { cents, db, midi, sec, ticksToSec } from '../../../src/music/units.ts';
import { swungTicks } from '../../../src/music/time.ts';
import { chordScale, type PlayedLine } from '../../../src/tests-engine/index.ts';
import { makeRandom, type Random } from '../../../src/tests-engine/material/random/random.ts';

/** A note meant for a place: ticks, length in ticks, MIDI number. */
export type Meant = readonly [ticks: number, length: number, midi: number];

export interface Playing {
  /** Everything so much behind the beat, ms. */
  readonly biasMs?: number;
  /** Standard deviation of each onset, ms. */
  readonly spreadMs?: number;
  /** Overrides the chart's own swing. */
  readonly swing?: number;
  readonly random?: Random;
  /** Every note rings on so much longer, s. */
  readonly ringSec?: number;
}

/** Twelve rectangular draws make a normal one (common practice). */
export const normal = (random: Random): number =>
  Array.from({ length: 12 }, () => random.below(1 << 20) / (1 << 20)).reduce((a, b) => a + b, -6);

/** A line as it would be heard, with human timing. */
export function played(chart: Chart, meant: readonly Meant[], playing: Playing = {}): PlayedLine {
  const { biasMs = 0, spreadMs = 0, swing = chart.swing, random = makeRandom(1), ringSec = 0 } = playing;
  const at = (ticks: number): number => ticksToSec(swungTicks(ticks, swing), chart.tempoBpm);
  const notes = meant.map(([start, length, pitch], i): HeardNote => {
    const onset = at(start) + (biasMs + spreadMs * normal(random)) / 1000;
    return {
      onsetSec: sec(onset),
      offsetSec: sec(onset + 0.96 * (at(start + length) - at(start)) + ringSec),
      midi: midi(pitch),
      cents: cents(0),
      levelDb: db(-20 + (i % 3)),
      confidence: 1,
    };
  });
  return { chart, notes };
}

const LOWEST = 52;
/** The note of a pitch class nearest to another note. */
export const near = (pc: number, to: number): number => {
  const up = to + ((((pc - to) % 12) + 12) % 12);
  return up - to > 6 && up - 12 >= LOWEST ? up - 12 : up;
};

export const chordHere = (chart: Chart, ticks: number) =>
  chordScale(chart.chords.findLast(({ startTicks }) => startTicks <= ticks)!.symbol, chart.key);

/** Quavers through the chart: chord tones on every crotchet, scale notes between. */
export function quaverLine(chart: Chart, random: Random, upTo = chart.bars): Meant[] {
  const end = upTo * barTicks(chart.metre);
  const notes: Meant[] = [];
  let last = 60;
  for (let at = 0; at < end; at += 240) {
    const here = chordHere(chart, at);
    const onBeat = at % 480 === 0;
    const pool = [...(onBeat ? here.tones : here.classes)];
    last = near(random.pick(pool), Math.min(72, Math.max(57, last)));
    notes.push([at, 240, last]);
  }
  return notes;
}
