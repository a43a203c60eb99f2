import { attackSec } from '../../src/audio/render/attack.ts';
import { RATE } from './tools.ts';

/** Kept before the attack, seconds: room for a 3 ms fade-in and for the definition's −20 dB edge. */
const LEAD_SEC = 0.01;
const FADE_IN_SEC = 0.003;
/** Stored peak, −3 dBFS: head-room for what an mp3 encoder adds. */
const STORED_PEAK = 0.7;
/** The last quarter fades to nothing: no click where a ringing sound was cut. */
const FADE_OUT_SHARE = 0.25;

/** Cuts a lone sound from just before its attack, fades both ends and scales it to the stored peak. */
export function cutAtAttack(sound: Float32Array, lengthSec: number): Float32Array {
  const attack = attackSec(sound, RATE);
  if (attack === null) throw new RangeError('the sound is silent');
  const lead = Math.round(LEAD_SEC * RATE);
  // Some recordings begin with their attack: silence before it gives the fade-in its room.
  const padded = new Float32Array(sound.length + lead);
  padded.set(sound, lead);
  return trim(padded, attack, lengthSec);
}

/** Cuts [startSec, startSec + lengthSec) with fades, scaled to the stored peak. */
export function trim(sound: Float32Array, startSec: number, lengthSec: number): Float32Array {
  const start = Math.round(startSec * RATE);
  const cut = sound.slice(start, start + Math.round(lengthSec * RATE));
  const fadeIn = Math.round(FADE_IN_SEC * RATE);
  const fadeOut = Math.round(cut.length * FADE_OUT_SHARE);
  let peak = 0;
  for (const value of cut) peak = Math.max(peak, Math.abs(value));
  return cut.map((value, i) => {
    const rise = Math.min(1, i / fadeIn);
    const fall = Math.min(1, (cut.length - i) / fadeOut);
    return (value * rise * fall * STORED_PEAK) / peak;
  });
}

/**
 * Rounds a stroke's first milliseconds: the waveshape tanh(drive·x)/tanh(drive). It lowers the peak against
 * the body by up to drive/tanh(drive), so that a sheet keeps its head-room without a limiter at run time.
 */
export const roundPeaks = (sound: Float32Array, drive: number): Float32Array =>
  sound.map((value) => (Math.tanh((drive * value) / STORED_PEAK) / Math.tanh(drive)) * STORED_PEAK);
