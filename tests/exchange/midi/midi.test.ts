import fc from 'fast-check';
import { writeMidi, type MidiEvent } from 'midi-file';
import { read } from 'midifile-ts';
import { swungTicks } from '../../../src/music/time.ts';
import { describe, expect, it } from 'vitest';
import { ExchangeError, testFromMidi, testToMidi } from '../../../src/exchange/index.ts';
import { parseTest } from '../../../src/tests-engine/index.ts';
import { anyTest, plain, plainRhythm } from '../../tests-engine/procedure/some-tests.ts';
import { likeThe, refuses, sounding } from '../options.ts';

const options = likeThe(plain);

/** A file of these notes: [start, length, pitch] in ticks of 96 to the crotchet. */
function file(
  notes: readonly (readonly [number, number, number])[],
  more: MidiEvent[] = [],
  tracks = 1,
): Uint8Array {
  const events = notes
    .flatMap(([start, length, noteNumber]) => [
      { at: start, on: true, noteNumber },
      { at: start + length, on: false, noteNumber },
    ])
    .sort((a, b) => a.at - b.at || Number(a.on) - Number(b.on));
  let now = 0;
  const track: MidiEvent[] = [
    ...more,
    ...events.map(({ at, on, noteNumber }): MidiEvent => {
      const deltaTime = at - now;
      now = at;
      return {
        type: on ? 'noteOn' : 'noteOff',
        deltaTime,
        channel: 0,
        noteNumber,
        velocity: 64,
      } as MidiEvent;
    }),
    { type: 'endOfTrack', meta: true, deltaTime: 0 },
  ];
  return Uint8Array.from(
    writeMidi({
      header: { format: 1, numTracks: tracks, ticksPerBeat: 96 },
      tracks: Array(tracks).fill(track),
    }),
  );
}

describe('MIDI export', () => {
  it('is read by an independent library note by note, as it sounds', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        const midi = read(testToMidi(test));
        expect(midi.header.ticksPerBeat).toBe(480);
        const phrases = test.question ? [test.phrase, test.question.other] : [test.phrase];
        expect(midi.tracks).toHaveLength(1 + phrases.length);
        phrases.forEach((phrase, i) => {
          let now = 0;
          const ons: number[][] = [];
          const offs: number[] = [];
          for (const event of midi.tracks[1 + i]!) {
            now += event.deltaTime;
            if (event.type !== 'channel') continue;
            if (event.subtype === 'noteOn') ons.push([now, event.noteNumber]);
            if (event.subtype === 'noteOff') offs.push(now);
          }
          // Off-beat quavers at their share of the beat: a shuffle swings.
          const heard = (at: number) => Math.round(swungTicks(at, test.swing));
          expect(ons).toEqual(phrase.notes.map((n) => [heard(n.startTicks), n.midi]));
          expect(offs).toEqual(phrase.notes.map((n) => heard(n.startTicks + n.durationTicks)));
          const { beats, beatUnit } = phrase.metre;
          expect(now).toBe((phrase.bars * beats * 4 * 480) / beatUnit);
        });
      }),
      { numRuns: 100 },
    );
  });
  it('puts rhythm A before rhythm B, wherever the true one stands', () => {
    const [, a] = read(testToMidi(plainRhythm)).tracks;
    let now = 0;
    const starts = a!.flatMap((e) => {
      now += e.deltaTime;
      return e.type === 'channel' && e.subtype === 'noteOn' ? [now] : [];
    });
    expect(starts).toEqual(plainRhythm.question!.other.notes.map((n) => n.startTicks));
  });
});

describe('MIDI import', () => {
  it('brings an exported melody back as a valid test', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        fc.pre(test.kind === 'melody');
        const back = testFromMidi(testToMidi(test), likeThe(test));
        expect(sounding(back)).toEqual(sounding(test));
        expect(back.phrase.metre).toMatchObject({
          beats: test.phrase.metre.beats,
          beatUnit: test.phrase.metre.beatUnit,
        });
        expect(back.tempoBpm).toBeCloseTo(test.tempoBpm, 1);
        expect(() => parseTest(JSON.parse(JSON.stringify(back)))).not.toThrow();
      }),
      { numRuns: 100 },
    );
  });
  it('moves played notes to the grid, triplets too, and starts in the first bar with a note', () => {
    const played = testFromMidi(
      file([
        [770, 85, 57],
        [861, 100, 60],
        [961, 30, 62],
        [991, 33, 64],
        [1025, 30, 65],
      ]),
      options,
    );
    expect(sounding(played)).toEqual([
      [0, 480, 57],
      [480, 480, 60],
      [960, 160, 62],
      [1120, 160, 64],
      [1280, 160, 65],
    ]);
  });
  it('puts a rhythm on the lowest string', () => {
    const test = testFromMidi(
      file([
        [0, 96, 60],
        [96, 48, 62],
      ]),
      { ...options, kind: 'rhythm' },
    );
    expect(test.phrase.notes.map((n) => [n.midi, n.string, n.fret])).toEqual([
      [40, 6, 0],
      [40, 6, 0],
    ]);
  });
  const tempo = (deltaTime: number, microsecondsPerBeat: number): MidiEvent => ({
    type: 'setTempo',
    meta: true,
    deltaTime,
    microsecondsPerBeat,
  });
  const time = (numerator: number, denominator: number): MidiEvent => ({
    type: 'timeSignature',
    meta: true,
    deltaTime: 0,
    numerator,
    denominator,
    metronome: 24,
    thirtyseconds: 8,
  });
  it.each([
    ['nothing', new Uint8Array(), /not a Standard MIDI File/],
    ['a RIFF file', new TextEncoder().encode('RIFF0000WAVEfmt '), /not a Standard MIDI File/],
    ['no notes', file([]), /no note in the file/],
    [
      'two notes at once',
      file([
        [0, 96, 60],
        [0, 96, 64],
      ]),
      /Two notes sound at once in bar 1/,
    ],
    [
      'overlapping voices',
      file([
        [0, 384, 60],
        [96, 96, 64],
      ]),
      /Two notes sound at once/,
    ],
    ['two tracks', file([[0, 96, 60]], [], 2), /notes in 2 tracks/],
    ['a note below the instrument', file([[0, 96, 30]]), /F#1 in bar 1 is beyond the guitar/],
    [
      'a note above it',
      file([
        [0, 96, 60],
        [400, 96, 100],
      ]),
      /E7 in bar 2 is beyond/,
    ],
    [
      'seventeen bars',
      file([
        [0, 96, 60],
        [16 * 384, 96, 60],
      ]),
      /17 bars; a test has at most 16/,
    ],
    ['a change of tempo', file([[0, 96, 60]], [tempo(0, 500_000), tempo(10, 600_000)]), /changes its tempo/],
    ['a change of metre', file([[0, 96, 60]], [time(4, 4), time(3, 4)]), /changes its time signature/],
    ['a metre in semiquavers', file([[0, 96, 60]], [time(7, 16)]), /7\/16/],
    ['a breakneck tempo', file([[0, 96, 60]], [tempo(0, 100_000)]), /600 crotchets a minute/],
  ])('refuses %s', (_, bytes, message) => refuses(() => testFromMidi(bytes, options), message));
  it('reads or refuses whatever it is given, and never hangs', () => {
    const good = testToMidi(plain);
    const change = fc.tuple(fc.nat(good.length - 1), fc.integer({ min: 0, max: 255 }));
    fc.assert(
      fc.property(fc.array(change, { maxLength: 5 }), fc.nat(good.length), (changes, length) => {
        const bytes = good.slice(0, length);
        for (const [at, value] of changes) if (at < length) bytes[at] = value;
        try {
          testFromMidi(bytes, options);
        } catch (error) {
          expect(error).toBeInstanceOf(ExchangeError);
        }
      }),
      { numRuns: 2000 },
    );
  });
});
