import type { Rendered, Sound } from '../../../audio/types.ts';
import type { Metre } from '../../../music/score.ts';
import { clickSheet, countedSpan, phraseSec, quantise } from '../../../tests-engine/index.ts';
import type { Quantised } from '../../../tests-engine/index.ts';
import type { Instrument } from '../../../music/score.ts';
import { bpm, TICKS_PER_QUARTER } from '../../../music/units.ts';
import { hearTake } from '../../session/hearTake.ts';

export interface PlayIn {
  readonly metre: Metre;
  readonly bars: number;
  readonly tempoBpm: number;
  readonly swing: number;
  readonly instrument: Instrument;
  readonly tuning: readonly number[];
  readonly headphones: boolean;
}

export interface Playing {
  /** Ends it at once; nothing is kept. */
  stop(): void;
  /** What was played; null where nothing could be written. */
  readonly written: Promise<Quantised | 'stopped' | null>;
}

/** Clicks, records what is played to them, and writes it down. The microphone must be open. */
export async function playIn(
  sound: Sound,
  asked: PlayIn,
  report: (stage: 'counting' | 'now' | 'hearing') => void,
): Promise<Playing> {
  const { metre, bars, tempoBpm } = asked;
  const rendered: Rendered = await sound.render(clickSheet(metre, bars, tempoBpm));
  const start = rendered.marks.find(({ label }) => label === 'takeStart')!.atSec;
  sound.startRecording();
  const playback = sound.play(rendered);
  report('counting');
  // Only the words on screen hang on this timer; what is heard goes by the sound's own clock.
  const timer = setInterval(() => {
    if (playback.positionSec() >= start) {
      report('now');
      clearInterval(timer);
    }
  }, 50);
  const finish = async (): Promise<Quantised | 'stopped' | null> => {
    const how = await playback.ended;
    clearInterval(timer);
    const recording = await sound.stopRecording();
    if (how === 'stopped') return 'stopped';
    report('hearing');
    const { take } = await hearTake(
      sound,
      {
        recording,
        instrument: asked.instrument,
        tuning: asked.tuning,
        beatOneFrame: playback.startFrame + start * rendered.sampleRate,
        span: countedSpan(
          60 / tempoBpm,
          phraseSec({ tempoBpm: bpm(tempoBpm), phrase: { metre, bars, notes: [] } }),
        ),
        sounded: [
          { samples: rendered.samples, startFrame: playback.startFrame, length: rendered.samples.length },
        ],
        headphones: asked.headphones,
        latency: sound.reportedLatency(),
      },
      () => undefined,
    );
    return quantise(take.notes, { ...asked, key: null });
  };
  return { stop: () => playback.stop(), written: finish() };
}

/** The practice window of a played phrase: four times its length, as at the first levels. */
export const practiceSecOf = (metre: Metre, bars: number, tempoBpm: number): number =>
  Math.min(
    600,
    Math.ceil(
      ((metre.beats * 4 * TICKS_PER_QUARTER) / metre.beatUnit / TICKS_PER_QUARTER) *
        (60 / tempoBpm) *
        bars *
        4,
    ),
  );
