import { PitchDetector } from 'pitchy';
import type { Note } from '../../support/fixtures/note-metrics.ts';
import { timed } from './listener.ts';
import type { BenchListener } from './listener.ts';

/**
 * What an afternoon's work gives: an onset where the short-time level jumps, and pitchy's answer just after.
 * The numbers are the usual first guesses, not tuned on any set.
 */
const HOP = 256;
const RISE_DB = 6;
const FLOOR_DB = -50;
const GAP_SEC = 0.05;
const PITCH_WINDOW = 2048;
const PITCH_AFTER_SEC = 0.03;

function onsets(signal: Float32Array, sampleRate: number): number[] {
  const found: number[] = [];
  const levels: number[] = [];
  for (let at = 0; at + 2 * HOP <= signal.length; at += HOP) {
    let sum = 0;
    for (let i = at; i < at + 2 * HOP; i++) sum += signal[i]! ** 2;
    levels.push(10 * Math.log10(sum / (2 * HOP) + 1e-12));
    const k = levels.length - 1;
    const before = Math.min(...levels.slice(Math.max(0, k - 3), k), levels[k]!);
    const sec = (at + HOP) / sampleRate;
    const last = found[found.length - 1] ?? -1;
    if (levels[k]! > FLOOR_DB && levels[k]! - before > RISE_DB && sec - last > GAP_SEC) found.push(sec);
  }
  return found;
}

export function naiveListener(): BenchListener {
  const detector = PitchDetector.forFloat32Array(PITCH_WINDOW);
  const notesOf = (signal: Float32Array, sampleRate: number): Note[] =>
    onsets(signal, sampleRate).flatMap((onsetSec) => {
      const at = Math.round((onsetSec + PITCH_AFTER_SEC) * sampleRate);
      const window = signal.subarray(at, at + PITCH_WINDOW);
      if (window.length < PITCH_WINDOW) return [];
      const [frequency, clarity] = detector.findPitch(window, sampleRate);
      const heard = clarity > 0.5 && frequency > 0;
      return heard ? [{ onsetSec, midi: 69 + 12 * Math.log2(frequency / 440) }] : [];
    });
  return {
    name: 'pitchy + energy',
    findsTuning: false,
    hear: ({ signal, sampleRate }) => {
      const { value, seconds } = timed(() => notesOf(signal, sampleRate));
      return Promise.resolve({ notes: value, seconds });
    },
    close: () => {},
  };
}
