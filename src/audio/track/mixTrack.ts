import type { TrackSpan } from '../../music/score.ts';
import { dbToAmplitude } from '../../music/units.ts';
import { commonGainDb, type Measured } from '../render/level.ts';

/** A recording ready to be sounded: at the sheet's rate and tempo, with what was measured of it. */
export interface ReadyTrack {
  readonly samples: Float32Array;
  readonly measured: Measured;
}

/** Ends fade this long, or a cut in the middle of a note would click. */
const FADE_SEC = 0.01;

/** Adds a stretch of a recording to a rendered sheet, as loud as any backing is, and `louderDb` more. In place. */
export function mixTrack(
  into: Float32Array,
  { atSec, fromSec, lengthSec, stretch }: TrackSpan,
  { samples, measured }: ReadyTrack,
  sampleRate: number,
  louderDb: number,
): void {
  const gain = dbToAmplitude(commonGainDb([measured]) + louderDb);
  const to = Math.round(atSec * sampleRate);
  const from = Math.round(fromSec * stretch * sampleRate);
  const length = Math.min(
    Math.round(lengthSec * sampleRate),
    into.length - to,
    Math.max(0, samples.length - from),
  );
  const fade = Math.max(1, Math.round(FADE_SEC * sampleRate));
  for (let n = 0; n < length; n++) {
    const edge = Math.min(1, n / fade, (length - n) / fade);
    into[to + n]! += gain * edge * samples[from + n]!;
  }
}
