import { multiply, powerOfTwo, realInverse, realSpectrum } from '../bleed/bigFft.ts';

/**
 * Envelope of the cross-correlation of `heard` with `sent` at lags 0…`lags` − 1 samples: the magnitude of its
 * analytic signal, so that an earcup's phase does not move the peak by half a wave.
 * @param heard `sent.length + lags` samples, the first where `sent` began @returns length `lags`
 */
export function matchedEnvelope(
  heard: ArrayLike<number>,
  sent: ArrayLike<number>,
  lags: number,
): Float64Array {
  const size = powerOfTwo(sent.length + lags);
  const cross = multiply(
    realSpectrum(heard, size, 0, Math.min(heard.length, sent.length + lags)),
    realSpectrum(sent, size),
    true,
  );
  const real = realInverse(cross);
  // Hilbert transform: −90° at every frequency.
  for (let k = 0; k < cross.length; k += 2) {
    const re = cross[k]!;
    cross[k] = cross[k + 1]!;
    cross[k + 1] = -re;
  }
  const turned = realInverse(cross);
  return Float64Array.from({ length: lags }, (_, n) => Math.hypot(real[n]!, turned[n]!));
}

/** The first sound, not the loudest: a reflection may be louder than what came straight, hardly by 6 dB. */
const FIRST_OF_PEAK = 0.5;
/** Reflections of a room's near walls come within this much (2 m of way). */
const EARLIER_SEC = 0.006;

/**
 * Where a matched envelope says that the sound arrived, in samples (parabolic between them), and how many times its
 * peak stands above the root mean square of all that lies more than 10 ms away.
 */
export function firstArrival(envelope: Float64Array, sampleRate: number): { lag: number; sureness: number } {
  let top = 0;
  for (let n = 1; n < envelope.length; n++) if (envelope[n]! > envelope[top]!) top = n;
  const peak = envelope[top]!;
  let at = top;
  for (let n = Math.max(1, top - Math.round(EARLIER_SEC * sampleRate)); n < top; n++)
    if (
      envelope[n]! >= FIRST_OF_PEAK * peak &&
      envelope[n]! > envelope[n - 1]! &&
      envelope[n]! >= envelope[n + 1]!
    ) {
      at = n;
      break;
    }
  const near = Math.round(0.01 * sampleRate);
  let power = 0;
  let count = 0;
  envelope.forEach((value, n) => {
    if (Math.abs(n - top) <= near) return;
    power += value * value;
    count++;
  });
  const [before, here, after] = [envelope[at - 1] ?? 0, envelope[at]!, envelope[at + 1] ?? 0];
  const bend = before - 2 * here + after;
  const between = bend < 0 ? (0.5 * (before - after)) / bend : 0;
  const rest = Math.sqrt(power / Math.max(1, count));
  return { lag: at + between, sureness: peak > 0 ? peak / Math.max(rest, 1e-12) : 0 };
}
