/**
 * The sound that measures the round trip through an earcup held to the microphone: one tone gliding up, then one
 * gliding down. Each is found by itself, so that a chance find shows by the two not agreeing.
 */
export interface Probe {
  /** Mono, −1…1, from silence to silence. */
  readonly samples: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  /** The two glides as they stand in `samples`: [first sample, one past the last]. */
  readonly glides: readonly [readonly [number, number], readonly [number, number]];
}

/** 0.3 to 6 kHz: what small earcups give and cheap microphones take, without the piercing top. */
const LOW_HZ = 300;
const HIGH_HZ = 6000;
/** Bandwidth × length = 4000: the find gains 36 dB over noise in the band, and both glides fit under 2 s. */
const GLIDE_SEC = 0.7;
/** A tenth of a second from silence cannot startle; it costs a seventh of one glide. */
const FADE_SEC = 0.1;
/** RMS of the full glide: 4 dB under the −20 dBFS that an ear beside a forgotten earcup may be given. */
const RMS_DB = -24;

/**
 * Makes the probe: 1.4 s, every 50 ms of it at most −24 dBFS RMS, faded in and out.
 * @param sampleRate 16000…192000 Hz @throws RangeError otherwise
 */
export function makeProbe(sampleRate: number): Probe {
  if (!(sampleRate >= 16_000 && sampleRate <= 192_000))
    throw new RangeError(`a probe is made at 16000 to 192000 Hz, got ${sampleRate}`);
  const length = Math.round(GLIDE_SEC * sampleRate);
  const fade = Math.round(FADE_SEC * sampleRate);
  const peak = Math.SQRT2 * 10 ** (RMS_DB / 20);
  const samples = new Float32Array(2 * length);
  for (let i = 0; i < length; i++) {
    const t = i / sampleRate;
    const cycles = LOW_HZ * t + ((HIGH_HZ - LOW_HZ) * t * t) / (2 * GLIDE_SEC);
    const edge = Math.min(1, i / fade, (length - i) / fade);
    const value = peak * Math.sin(2 * Math.PI * cycles) * Math.sin((Math.PI / 2) * edge) ** 2;
    samples[i] = value;
    samples[2 * length - 1 - i] = value;
  }
  return {
    samples,
    sampleRate,
    glides: [
      [0, length],
      [length, 2 * length],
    ],
  };
}
