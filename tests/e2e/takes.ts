import { perform } from '../../audio-fixtures/player.ts';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import { performanceSheet, targetOf } from '../../src/tests-engine/index.ts';
import type { Performance } from '../support/simulated-player.ts';

/** What the player does with one note of the test; times in seconds, pitch in semitones. */
export interface Change {
  readonly laterSec?: number;
  readonly higher?: number;
}

const SAMPLE_RATE = 48_000;
/** The recorded attack may start a little before its note is due; room for it before beat 1. */
const LEAD_SEC = 0.3;

/** A take of a test played with real recorded notes; `changes` by note index. */
export async function playedTake(
  test: PracticeTest,
  changes: Readonly<Record<number, Change>> = {},
): Promise<Performance> {
  const bank = await loadNpmBank(test.instrument === 'bass' ? 'bass' : 'electric');
  const target = targetOf(test.phrase, test);
  const plan = target.map((note, i) => ({
    onsetSec: LEAD_SEC + note.onsetSec + (changes[i]?.laterSec ?? 0),
    durationSec: (note.durationSec ?? 0.3) * 0.9,
    midi: note.midi! + (changes[i]?.higher ?? 0),
    levelDb: 0,
  }));
  const last = plan[plan.length - 1]!;
  const { signal } = perform(plan, bank, {
    sampleRate: SAMPLE_RATE,
    durationSec: last.onsetSec + last.durationSec + 1,
    random: makeRandom(7),
  });
  const sheet = performanceSheet(test);
  const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
  return {
    pcm: Float32Array.from(signal),
    sampleRate: SAMPLE_RATE,
    lengthSec: sheet.durationSec,
    atSec: start.atSec - LEAD_SEC,
    roundTripSec: 'reported',
  };
}
