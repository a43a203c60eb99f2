import { combScores, createSpectra } from '../pitch/comb.ts';
import { COMB, LOG_FLOOR } from '../pitch/notePitch.ts';
import { LOWEST, pitchFrames, PITCHES } from '../pitch/salience.ts';

export interface LiveName {
  /** Whole MIDI number. */
  readonly midi: number;
  /** Mean gated salience there, 0…1. */
  readonly salience: number;
}

/**
 * Names a pitch from the little that has been heard of it: the periodicity and comb of the re-hearing.
 * Both arguments begin 12 ms after the attack: `samples` at the working rate, `half` at half of it.
 */
export function createNamer(): (samples: Float32Array, half: Float32Array) => LiveName {
  const spectra = createSpectra();
  const comb = new Float64Array(PITCHES);
  const scores = new Float64Array(PITCHES);
  return (samples, half) => {
    const whole = [0, samples.length] as const;
    for (const { after } of spectra.of(samples, [{ before: whole, after: whole }])) combScores(after, comb);
    const pitch = pitchFrames(half);
    scores.fill(0);
    let total = 1e-12;
    for (let j = 0; j < pitch.frames; j++) {
      const weight = Math.sqrt(pitch.power[j]!);
      total += weight;
      for (let n = 0; n < PITCHES; n++)
        scores[n] = scores[n]! + weight * Math.log(LOG_FLOOR + pitch.gated[j * PITCHES + n]!);
    }
    let best = 0;
    for (let n = 0; n < PITCHES; n++) {
      scores[n] = scores[n]! / total + COMB * comb[n]!;
      if (scores[n]! > scores[best]!) best = n;
    }
    let salience = 0;
    for (let j = 0; j < pitch.frames; j++)
      salience += (Math.sqrt(pitch.power[j]!) * pitch.gated[j * PITCHES + best]!) / total;
    return { midi: LOWEST + best, salience };
  };
}
