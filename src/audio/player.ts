import { dbToAmplitude } from '../music/units.ts';
import type { OutputLatency } from './outputLatency.ts';
import type { Playback, Sound } from './types.ts';

/**
 * Between the call and the first sample: the start must reach the audio thread before its frame is due. Context
 * time as the page sees it lags by up to a hardware buffer (20 to 40 ms on sound servers).
 */
const LEAD_SEC = 0.1;
/** A stop fades this long: shorter clicks, longer is heard as a fade. */
const FADE_SEC = 0.01;

/** Starts a mono buffer on the context's clock. @throws RangeError when `fromSec` lies outside the buffer */
export function play(
  context: AudioContext,
  rendered: Parameters<Sound['play']>[0],
  output: Pick<OutputLatency, 'sec'>,
  { fromSec = 0, gainDb = 0 }: NonNullable<Parameters<Sound['play']>[1]> = {},
): Playback {
  const lengthSec = rendered.samples.length / rendered.sampleRate;
  if (!(fromSec >= 0 && fromSec < lengthSec))
    throw new RangeError(`a playback starts within its ${lengthSec} s, got ${fromSec}`);
  const buffer = context.createBuffer(1, rendered.samples.length, rendered.sampleRate);
  buffer.copyToChannel(rendered.samples, 0);
  const source = context.createBufferSource();
  source.buffer = buffer;
  const fader = context.createGain();
  fader.gain.value = dbToAmplitude(gainDb);
  source.connect(fader).connect(context.destination);

  const firstFrame = Math.ceil((context.currentTime + LEAD_SEC) * context.sampleRate);
  const startSec = firstFrame / context.sampleRate;
  source.start(startSec, fromSec);
  let settle: (how: 'finished' | 'stopped') => void = () => undefined;
  const ended = new Promise<'finished' | 'stopped'>((resolve) => (settle = resolve));
  let stopped = false;
  source.onended = () => {
    fader.disconnect();
    settle(stopped ? 'stopped' : 'finished');
  };
  return {
    startFrame: firstFrame - Math.round(fromSec * context.sampleRate),
    positionSec() {
      const leaving = context.currentTime - output.sec;
      return Math.min(lengthSec, Math.max(fromSec, leaving - startSec + fromSec));
    },
    stop() {
      if (stopped) return;
      stopped = true;
      const now = context.currentTime;
      fader.gain.setValueAtTime(fader.gain.value, now);
      fader.gain.linearRampToValueAtTime(0, now + FADE_SEC);
      source.stop(now + FADE_SEC);
      // A suspended context ends nothing.
      if (context.state !== 'running') settle('stopped');
    },
    ended,
  };
}
