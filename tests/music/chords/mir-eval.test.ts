import { describe, expect, it } from 'vitest';
import { quality, type QualityId } from '../../../src/music/chords/index.ts';

/**
 * mir_eval 0.8.2, `mir_eval.chord.QUALITIES` (Raffel et al., ISMIR 2014; the syntax of Harte 2005): which of the twelve
 * semitones above the root a quality holds. Ninths stand there without their ninth, which its `reduce_extended_quality` keeps apart.
 */
const MIR_EVAL: Record<string, string> = {
  maj: '100010010000',
  min: '100100010000',
  aug: '100010001000',
  dim: '100100100000',
  sus4: '100001010000',
  sus2: '101000010000',
  '7': '100010010010',
  maj7: '100010010001',
  min7: '100100010010',
  minmaj7: '100100010001',
  maj6: '100010010100',
  min6: '100100010100',
  dim7: '100100100100',
  hdim7: '100100100010',
  maj9: '100010010001',
  min9: '100100010010',
  '9': '100010010010',
  '5': '100000010000',
};
const OURS: Record<string, QualityId> = {
  maj: 'major',
  min: 'minor',
  aug: 'augmented',
  dim: 'diminished',
  sus4: 'suspended fourth',
  sus2: 'suspended second',
  '7': 'dominant seventh',
  maj7: 'major seventh',
  min7: 'minor seventh',
  minmaj7: 'minor major seventh',
  maj6: 'sixth',
  min6: 'minor sixth',
  dim7: 'diminished seventh',
  hdim7: 'half-diminished',
  maj9: 'major ninth',
  min9: 'minor ninth',
  '9': 'dominant ninth',
  '5': 'fifth',
};

describe('the chords that can be asked for', () => {
  it.each(Object.keys(MIR_EVAL))('hold the tones that mir_eval gives %s', (name) => {
    const bits = new Array<string>(12).fill('0');
    for (const interval of quality(OURS[name]!).intervals) if (interval < 12) bits[interval] = '1';
    expect(bits.join('')).toBe(MIR_EVAL[name]);
  });
});
