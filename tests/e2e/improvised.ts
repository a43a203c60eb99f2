import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { barTicks } from '../../src/music/metre.ts';
import type { ImprovisingTask } from '../../src/music/task.ts';
import { performedSec, phraseSec } from '../../src/music/time.ts';
import { chordScale, chartOf, handlerOf } from '../../src/tests-engine/index.ts';
import { CHORD_SHAPES, soundingOf } from '../../src/tests-engine/index.ts';
import { chordSymbol, parseChord } from '../../src/music/chords/index.ts';
import { playChords, RATE, type PlayedStrum } from '../../audio-fixtures/chords/index.ts';
import type { Performance } from '../support/simulated-player.ts';

const SAMPLE_RATE = 48_000;
/** The recorded attack may start a little before its note is due. */
const LEAD_SEC = 0.3;

/**
 * A crotchet on each beat of real recorded notes, the third of the chord on the first of a bar and its other notes after,
 * once a pass; `silent`: bars without any.
 */
export async function improvisedLine(
  task: ImprovisingTask,
  passes: readonly { readonly silent: readonly number[] }[],
): Promise<Performance> {
  const bank = await loadNpmBank('electric');
  const chart = chartOf(task);
  const bar = barTicks(chart.metre);
  const low = (pc: number): number => 52 + ((pc - 52 + 120) % 12);
  const plan = passes.flatMap(({ silent }, pass) =>
    Array.from({ length: chart.bars * 4 }, (_, k) => k * 480)
      .filter((at) => !silent.includes(Math.floor(at / bar) + 1))
      .map((at) => {
        const symbol = chart.chords.findLast(({ startTicks }) => startTicks <= at)!.symbol;
        const tones = [...chordScale(symbol, chart.key).tones];
        const tone = at % bar === 0 ? tones[1]! : tones[(at / 480) % tones.length]!;
        const onsetSec = LEAD_SEC + pass * phraseSec(task) + performedSec(at, task);
        const durationSec = 0.85 * (performedSec(at + 480, task) - performedSec(at, task));
        return { onsetSec, durationSec, midi: low(tone), levelDb: 0 };
      }),
  );
  const durationSec = LEAD_SEC + passes.length * phraseSec(task) + 1;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  return atTake(task, Float32Array.from(signal), SAMPLE_RATE);
}

/** A sound whose {@link LEAD_SEC} is where the first pass begins, played to the take's own sheet. */
export function atTake(
  task: ImprovisingTask,
  pcm: Float32Array<ArrayBuffer>,
  sampleRate: number,
): Performance {
  const sheet = handlerOf(task).sheet(task, 'performance', {});
  const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
  return {
    ...{ pcm, sampleRate },
    ...{ lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC, roundTripSec: 'reported' },
  };
}

/** What a bar of strokes is to be: the chords of the chart, each a semitone too high, or nothing. */
export type StrokesOf = 'chord' | 'semitone' | 'silent';

/** Strokes on beats 1 and 3 of real recorded strings, in a shape of each chord of the chart; `bars` a pass, "chord" where not said. */
export async function improvisedStrokes(
  task: ImprovisingTask,
  passes: readonly (readonly StrokesOf[] | StrokesOf)[],
): Promise<Performance> {
  const bank = await loadNpmBank('nylon');
  const chart = chartOf(task);
  const bar = barTicks(chart.metre);
  const shapeOf = (symbol: string): readonly number[] => {
    const wanted = chordSymbol(parseChord(symbol)!);
    return soundingOf(CHORD_SHAPES.find(({ chord }) => chordSymbol(chord) === wanted)!);
  };
  const strums = passes.flatMap((bars, pass) =>
    Array.from({ length: chart.bars * 2 }, (_, k) => k * 960).flatMap((at): PlayedStrum[] => {
      const how = typeof bars === 'string' ? bars : (bars[Math.floor(at / bar)] ?? 'chord');
      if (how === 'silent') return [];
      const { symbol } = chart.chords.findLast(({ startTicks }) => startTicks <= at)!;
      const from = LEAD_SEC + pass * phraseSec(task);
      return [
        {
          notes: shapeOf(symbol).map((midi) => midi + (how === 'semitone' ? 1 : 0)),
          atSec: from + performedSec(at, task),
          untilSec: from + performedSec(at + 960, task) - 0.08,
        },
      ];
    }),
  );
  const durationSec = LEAD_SEC + passes.length * phraseSec(task) + 1;
  return atTake(task, playChords(bank, strums, { durationSec, seed: 11 }), RATE);
}
