import { describe, expect, it } from 'vitest';
import { accidentalKeeper, fifthsOf, inSignature, spelled } from '../../src/notation/spelling.ts';

describe('key signatures', () => {
  it('agree with the circle of fifths (any theory handbook: D major 2 sharps, E flat major 3 flats, …)', () => {
    const table: [string, string, number][] = [
      ['C', 'major', 0],
      ['D', 'major', 2],
      ['Eb', 'major', -3],
      ['A', 'minor', 0],
      ['F#', 'minor', 3],
      ['C', 'minor', -3],
      ['A', 'minor pentatonic', 0],
      ['G', 'major pentatonic', 1],
      ['E', 'harmonic minor', 1],
      ['D', 'dorian', 0],
      ['G', 'mixolydian', 0],
      ['A', 'blues', 0],
      ['C#', 'major', 7],
    ];
    for (const [tonic, scale, fifths] of table)
      expect([tonic, scale, fifthsOf({ tonic, scale })]).toEqual([tonic, scale, fifths]);
  });
  it('put F sharp first and B flat first', () => {
    expect([inSignature('F', 1), inSignature('C', 1), inSignature('B', -1), inSignature('E', -1)]).toEqual([
      '#',
      '',
      'b',
      '',
    ]);
  });
  it('refuse what is no tonic or has more than seven signs', () => {
    expect(() => fifthsOf({ tonic: 'H', scale: 'major' })).toThrow(/tonic must be a letter A–G/);
    expect(() => fifthsOf({ tonic: 'G#', scale: 'major' })).toThrow(/at most 7/);
    expect(() => spelled('H3')).toThrow(/a spelling is/);
  });
});

describe('accidentals', () => {
  it('stand once a bar, count by octave, and a natural takes them back', () => {
    const keep = accidentalKeeper(fifthsOf({ tonic: 'G', scale: 'major' }));
    expect(['F#3', 'F3', 'F3', 'F4', 'F#3', 'Bb3'].map((s) => keep(spelled(s)))).toEqual([
      null,
      'n',
      null,
      'n',
      '#',
      'b',
    ]);
  });
});
