import { highPass, lowPass } from './filters.ts';
import { peakTo } from '../take.ts';
import type { Random } from '../random.ts';

/** An overdriven amplifier: tanh at gain 4–16 on a signal of peak 1, loudspeaker low-pass 4.5 kHz. */
export function drive(signal: Float32Array, gain: number, sampleRate: number): void {
  peakTo(signal, 0);
  for (let i = 0; i < signal.length; i++) signal[i] = Math.tanh(gain * signal[i]!);
  lowPass(signal, 4500, sampleRate);
}

/**
 * An effect that lets each note speak late, as a noise gate or a swell pedal before the amplifier does: the pluck comes
 * through 6–16 dB down, and 12–40 ms later the gain opens within 2–10 ms. The attack remains the pluck's.
 * @param plucks samples, rising
 */
export function speakLate(
  signal: Float32Array,
  plucks: readonly number[],
  sampleRate: number,
  random: Random,
): void {
  const closed = random.between(0.012, 0.04) * sampleRate;
  const leak = 10 ** (-random.between(6, 16) / 20);
  const opening = random.between(0.002, 0.01) * sampleRate;
  plucks.forEach((pluck, k) => {
    const opens = Math.round(pluck + closed * random.between(0.8, 1.2));
    const end = Math.min(signal.length, plucks[k + 1] ?? Infinity, opens + opening);
    for (let i = pluck; i < end; i++)
      signal[i]! *= i < opens ? leak : leak + ((1 - leak) * (i - opens)) / opening;
  });
}

/** A phone's or headset's band, 24 dB an octave. */
export function phoneBand(signal: Float32Array, sampleRate: number, random: Random): void {
  const low = random.between(150, 350);
  const high = random.pick([3400, 3800, 7000]);
  for (let pass = 0; pass < 2; pass++) {
    highPass(signal, low, sampleRate);
    lowPass(signal, high, sampleRate);
  }
}

/** The input stage overdriven by `overDb`: flat tops at full scale. */
export function clip(signal: Float32Array, overDb: number): void {
  peakTo(signal, overDb);
  for (let i = 0; i < signal.length; i++) signal[i] = Math.max(-1, Math.min(1, signal[i]!));
}
