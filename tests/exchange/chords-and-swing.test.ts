import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { testFromMidi, testFromMusicXml, testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import { harmonised } from '../../src/tests-engine/index.ts';
import { ticks } from '../../src/music/units.ts';
import { note, plain } from '../tests-engine/procedure/some-tests.ts';
import { likeThe } from './options.ts';

const quavers = [0, 240, 480, 720, 960, 1440].map((at) => note(at, 240, 57));
const shuffle = harmonised({
  ...plain,
  style: 'shuffle',
  swing: 2 / 3,
  phrase: { ...plain.phrase, bars: 1, notes: quavers },
});

describe('a shuffle', () => {
  it('swings in its MIDI file: off-beat quavers fall on the third of three', () => {
    const { tracks } = parseMidi(testToMidi(shuffle));
    const starts: number[] = [];
    let at = 0;
    for (const event of tracks[1]!) {
      at += event.deltaTime;
      if (event.type === 'noteOn' && event.velocity > 0) starts.push(at);
    }
    expect(starts).toEqual([0, 320, 480, 800, 960, 1440]);
    const back = testFromMidi(testToMidi(shuffle), likeThe(shuffle));
    expect(back.swing).toBeCloseTo(2 / 3, 9);
    expect(back.phrase.notes.map((n) => n.startTicks)).toEqual([0, 240, 480, 720, 960, 1440]);
  });
  it('is a shuffle still after MusicXML and back, and so is what is straight', () => {
    const there = (test: typeof plain) =>
      testFromMusicXml(new TextEncoder().encode(testToMusicXml(test)), likeThe(test));
    expect(there(shuffle).swing).toBeCloseTo(2 / 3, 9);
    expect(there(plain).swing).toBe(0.5);
  });
});

describe('chord symbols in MusicXML', () => {
  it('stand in their bars, each where it begins', () => {
    const test = {
      ...plain,
      backing: {
        arranger: 2 as const,
        chords: [
          { startTicks: ticks(0), durationTicks: ticks(1920), symbol: 'Am7' },
          { startTicks: ticks(1920), durationTicks: ticks(960), symbol: 'F#m7b5' },
          { startTicks: ticks(2880), durationTicks: ticks(960), symbol: 'C/E' },
        ],
      },
    };
    const xml = testToMusicXml(test).replace(/\s+</g, '<');
    expect(xml.match(/<harmony>/g)).toHaveLength(3);
    expect(xml).toContain('<root-step>A</root-step></root><kind text="m7">minor-seventh</kind></harmony>');
    expect(xml).toContain(
      '<root><root-step>F</root-step><root-alter>1</root-alter></root><kind text="m7b5">half-diminished</kind>',
    );
    expect(xml).toContain(
      '<kind>major</kind><bass><bass-step>E</bass-step></bass><offset>960</offset></harmony>',
    );
    expect(testToMusicXml(plain)).not.toContain('<harmony>');
  });
});
