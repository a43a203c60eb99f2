import { describe, expect, it } from 'vitest';
import { midiToHz } from '../../../src/music/units.ts';
import { spelledScale } from '../../../src/tests-engine/material/theory/scale.ts';
import {
  spellApproach,
  spellInScale,
  spelledMidi,
} from '../../../src/tests-engine/material/theory/spelling.ts';
import { LEVELS } from '../../../src/tests-engine/material/index.ts';

describe('scales are spelled as a theory text spells them', () => {
  // Key signatures by the circle of fifths, and the natural and harmonic minor of A, as in C. Schmidt-Jones,
  // "Introduction to Music Theory" (Connexions), chapter 2 "Keys and Scales"; modes as white-note scales
  // (Dorian on D, Mixolydian on G) transposed, as in its section on modes. Lists written from the text's
  // rules, not from a program.
  it.each([
    ['C', 'major', 'C D E F G A B'],
    ['G', 'major', 'G A B C D E F#'],
    ['D', 'major', 'D E F# G A B C#'],
    ['A', 'major', 'A B C# D E F# G#'],
    ['E', 'major', 'E F# G# A B C# D#'],
    ['F', 'major', 'F G A Bb C D E'],
    ['Bb', 'major', 'Bb C D Eb F G A'],
    ['Eb', 'major', 'Eb F G Ab Bb C D'],
    ['A', 'minor', 'A B C D E F G'],
    ['E', 'minor', 'E F# G A B C D'],
    ['B', 'minor', 'B C# D E F# G A'],
    ['F#', 'minor', 'F# G# A B C# D E'],
    ['D', 'minor', 'D E F G A Bb C'],
    ['G', 'minor', 'G A Bb C D Eb F'],
    ['C', 'minor', 'C D Eb F G Ab Bb'],
    ['A', 'harmonic minor', 'A B C D E F G#'],
    ['E', 'harmonic minor', 'E F# G A B C D#'],
    ['G', 'harmonic minor', 'G A Bb C D Eb F#'],
    ['D', 'dorian', 'D E F G A B C'],
    ['A', 'dorian', 'A B C D E F# G'],
    ['G', 'dorian', 'G A Bb C D E F'],
    ['G', 'mixolydian', 'G A B C D E F'],
    ['A', 'mixolydian', 'A B C# D E F# G'],
    ['F', 'mixolydian', 'F G A Bb C D Eb'],
    ['A', 'minor pentatonic', 'A C D E G'],
    ['G', 'minor pentatonic', 'G Bb C D F'],
    ['C', 'major pentatonic', 'C D E G A'],
    ['A', 'major pentatonic', 'A B C# E F#'],
    ['A', 'blues', 'A C D Eb E G'],
    ['E', 'blues', 'E G A Bb B D'],
  ])('%s %s', (tonic, scale, notes) => {
    expect(spelledScale({ tonic, scale }).names.join(' ')).toBe(notes);
  });
  it('and no key of the ladder needs a double accidental', () => {
    for (const level of LEVELS)
      for (const { scale, tonics } of level.scales)
        for (const tonic of tonics)
          expect(spelledScale({ tonic, scale }).names.every((name) => name.length <= 2)).toBe(true);
  });
  it('what is no key is refused by name', () => {
    expect(() => spelledScale({ tonic: 'H', scale: 'major' })).toThrow(/"H major" is no key/);
  });
});

describe('spelling with octaves', () => {
  it('counts the octave from the letter', () => {
    expect(spelledMidi('Cb4')).toBe(59);
    expect(spelledMidi('B#3')).toBe(60);
    expect(spelledMidi('Bb3')).toBe(58);
    expect(spelledMidi('x')).toBeNull();
    expect(spellInScale(spelledScale({ tonic: 'Eb', scale: 'minor' }), 59)).toBe('Cb4');
  });
  it('writes an approach note as a minor second: sharp going up, flat going down', () => {
    expect(spellApproach(63, 64, 'E4')).toBe('D#4');
    expect(spellApproach(63, 62, 'D4')).toBe('Eb4');
    expect(spellApproach(61, 60, 'C4')).toBe('Db4');
    expect(spellApproach(59, 60, 'C4')).toBe('B3');
    expect(spellApproach(61, 62, 'D4')).toBe('C#4');
  });
});

it('note frequencies are those of the equal-tempered scale in the CRC Handbook of Chemistry and Physics', () => {
  // Its table "The musical scales", C0 16.352 … ; A4 = 440 Hz (ISO 16). Hz to the printed digits.
  const printed: [number, number][] = [
    [12, 16.352],
    [16, 20.602],
    [36, 65.406],
    [40, 82.407],
    [41, 87.307],
    [60, 261.63],
    [64, 329.63],
    [84, 1046.5],
    [88, 1318.51],
    [69, 440],
  ];
  for (const [midi, frequency] of printed)
    expect(Math.abs(midiToHz(midi) / frequency - 1)).toBeLessThan(0.00004);
});
