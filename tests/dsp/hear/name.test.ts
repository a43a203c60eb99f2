import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import type { Accepted } from '../../../src/dsp/decision/accept.ts';
import { analyse } from '../../../src/dsp/hear/analysis.ts';
import { nameNotes } from '../../../src/dsp/hear/name.ts';
import { ms, WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { PHRASE, render } from '../support/pluck.ts';

/** A pluck that the decision is sure of, whatever sounds there. */
const pluckAt = (at: number): Accepted => ({
  possible: {
    candidate: { frame: 0, strength: 1, flux: 1 },
    attack: { at: Math.round(at), steepDb: 20 },
    features: new Float64Array(0),
  },
  probability: 1,
});

describe('naming', () => {
  it('leaves out what begins too near the end to be named, and numbers the rest', () => {
    const signal = render(PHRASE, WORK_RATE, 2);
    const analysis = analyse(signal);
    const first = PHRASE[0]!;
    const named = nameNotes(analysis, [first.onsetSec * WORK_RATE, signal.length - ms(8)].map(pluckAt), {
      pitchless: 'kept',
    });
    expect(named.map((note) => note.midi)).toEqual([first.midi]);
    for (const value of Object.values(named[0]!)) expect(value).toSatisfy(Number.isFinite);
  });

  it('keeps a pluck without a pitch, or leaves it out where it is told to', () => {
    const random = makeRandom(3);
    const signal = new Float32Array(WORK_RATE);
    // A click of 7 ms: longer noise is by chance a little periodic at some high pitch.
    for (let i = 8820; i < 9120; i++) signal[i] = 0.3 * random.between(-1, 1);
    const analysis = analyse(signal);
    expect(nameNotes(analysis, [pluckAt(8820)], { pitchless: 'kept' })).toHaveLength(1);
    expect(nameNotes(analysis, [pluckAt(8820)], { pitchless: 'dropped' })).toHaveLength(0);
  });
});
