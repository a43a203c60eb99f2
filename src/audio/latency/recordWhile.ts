import type { Playback, Recording, Sound } from '../types.ts';

/** The longest trip looked for (0.5 s) and what the last samples need to arrive. */
export const TAIL_SEC = 0.6;

/** What a measurement needs of the sound. */
export type MeasuringSound = Pick<Sound, 'play' | 'startRecording' | 'stopRecording'>;

const wait = (sec: number): Promise<void> => new Promise((done) => setTimeout(done, sec * 1000));

/**
 * Plays a buffer and records it and `tailSec` more, on the one frame counter. The microphone must be open.
 * @returns null when `signal` ended it; what sounds then fades out
 */
export async function recordWhile(
  sound: MeasuringSound,
  buffer: Parameters<Sound['play']>[0],
  tailSec: number,
  { signal, onPlayback }: { signal?: AbortSignal; onPlayback?: (playback: Playback) => void } = {},
): Promise<{ readonly recording: Recording; readonly startFrame: number } | null> {
  if (signal?.aborted) return null;
  sound.startRecording();
  const playback = sound.play(buffer);
  const stop = (): void => playback.stop();
  signal?.addEventListener('abort', stop);
  onPlayback?.(playback);
  const how = await playback.ended;
  signal?.removeEventListener('abort', stop);
  if (how === 'finished') await wait(tailSec);
  const recording = await sound.stopRecording();
  return how === 'finished' && !signal?.aborted ? { recording, startFrame: playback.startFrame } : null;
}
