import { describe, expect, it } from 'vitest';
import type { Metre, WrittenNote } from '../../src/music/score.ts';
import { writtenAccidentals } from '../../src/notation/accidentals.ts';
import { notate } from '../../src/notation/notation.ts';
import { midi, ticks } from '../../src/music/units.ts';

const METRE: Metre = { beats: 4, beatUnit: 4, grouping: [2, 2] };

/** Notes as "F#3" crotchets, or "F#3:2" for two crotchets; bars as many as they fill. */
function written(fifths: number, ...words: string[]): string {
  return writtenInLines([], fifths, ...words);
}

/** @param lineStarts bars that begin a line. */
function writtenInLines(lineStarts: readonly number[], fifths: number, ...words: string[]): string {
  let at = 0;
  const notes = words.map((word): WrittenNote => {
    const [spelling, beats = '1'] = word.split(':');
    const startTicks = ticks(at);
    at += 480 * Number(beats);
    return {
      startTicks,
      durationTicks: ticks(480 * Number(beats)),
      midi: midi(60),
      spelling: spelling!,
      string: 1,
      fret: 0,
    };
  });
  const bars = notate({ metre: METRE, bars: Math.ceil(at / 1920), notes });
  return writtenAccidentals(bars, notes, fifths, lineStarts)
    .map((bar) => bar.map((a) => (a ? (a.courtesy ? `(${a.sign})` : a.sign) : '.')).join(' '))
    .join(' | ');
}

describe('accidentals as written', () => {
  it('stand once a bar and are written again in the next', () => {
    expect(written(0, 'F#3', 'F#3', 'F3', 'F#3', 'F#3', 'G3', 'F#3', 'F3')).toBe('# . n # | # . . n');
  });
  it('are recalled in the bar after, once, where a note goes back to the signature', () => {
    expect(written(1, 'F3', 'G3', 'G3', 'G3', 'F#3', 'F#3', 'G3', 'G3')).toBe('n . . . | (#) . . .');
    expect(written(0, 'Bb3', 'G3', 'G3', 'G3', 'B3', 'G3', 'G3', 'G3', 'B3')).toBe(
      'b . . . | (n) . . . | . . .',
    );
  });
  it('are recalled in another octave of the same bar', () => {
    expect(written(0, 'F#3', 'F4', 'F4', 'G3')).toBe('# (n) . .');
  });
  it('are not repeated over a tie, and the tie gives none to what follows in the new bar', () => {
    expect(written(0, 'G3', 'G3', 'G3', 'F#3:2', 'F#3', 'F3', 'G3')).toBe('. . . # | . # n .');
    expect(written(0, 'G3', 'G3', 'G3', 'F#3:2', 'F3', 'G3', 'G3')).toBe('. . . # | . (n) . .');
  });
  it('are recalled over a tie into a new line, and nowhere else', () => {
    const tied = ['G3', 'G3', 'G3', 'F#3:2', 'F#3', 'F3', 'G3'];
    expect(writtenInLines([0, 1], 0, ...tied)).toBe('. . . # | (#) # n .');
    expect(writtenInLines([0], 0, ...tied)).toBe('. . . # | . # n .');
    expect(writtenInLines([0, 1], 1, 'G3', 'G3', 'G3', 'F3:2', 'G3', 'G3', 'G3')).toBe('. . . n | (n) . . .');
    expect(writtenInLines([0, 1], 1, 'G3', 'G3', 'G3', 'F#3:2', 'G3', 'G3', 'G3')).toBe('. . . . | . . . .');
  });
  it('are none in a key that holds every note', () => {
    expect(written(-3, 'Eb3', 'Bb3', 'Ab3', 'C4')).toBe('. . . .');
  });
});
