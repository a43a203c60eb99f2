import { describe, expect, it } from 'vitest';
import { parseNoteList, parsePairLine } from '../../../src/tests-engine/index.ts';

describe('a list of notes read from JSON', () => {
  it('may hold onsets or notes, with a length as duration or end', () => {
    expect(
      parseNoteList([
        0,
        { onsetSec: 0.5, midi: 64.2, durationSec: 0.4, confidence: 0.9 },
        { onsetSec: 1, offsetSec: 1.5 },
      ]),
    ).toEqual([
      { onsetSec: 0 },
      { onsetSec: 0.5, midi: 64.2, durationSec: 0.4, confidence: 0.9 },
      { onsetSec: 1, durationSec: 0.5 },
    ]);
  });

  it.each([
    [{}, TypeError, 'notes must be an array, got {}'],
    [[NaN], TypeError, 'notes[0] must be a finite number, got NaN'],
    [['1'], TypeError, 'notes[0] must be a number or an object with onsetSec, got "1"'],
    [[{ midi: 60 }], TypeError, 'notes[0].onsetSec must be given, got undefined'],
    [[{ onsetSec: 0, midi: 200 }], RangeError, 'notes[0].midi must be 0 to 127, got 200'],
    [[{ onsetSec: 0, confidence: 2 }], RangeError, 'notes[0].confidence must be 0 to 1, got 2'],
    [[{ onsetSec: 0, durationSec: -1 }], RangeError, 'notes[0].durationSec must be 0 to 86400, got -1'],
    [[1, 0.5], RangeError, 'notes[1] must not start before the note before it (1 s), got 0.5'],
    [
      [{ onsetSec: 0, pitch: 60 }],
      TypeError,
      'notes[0] has the unknown key "pitch"; known are onsetSec, midi, durationSec, offsetSec, confidence',
    ],
    [
      [{ onsetSec: 0, durationSec: 1, offsetSec: 1 }],
      TypeError,
      'notes[0] has both durationSec and offsetSec; give one',
    ],
  ] as const)('%j is refused in one sentence', (json, error, message) => {
    expect(() => parseNoteList(json)).toThrow(new error(message));
  });

  it('longer than 1000 notes is refused with a remedy', () => {
    expect(parseNoteList(new Array(1000).fill(0))).toHaveLength(1000);
    expect(() => parseNoteList(new Array(1001).fill(0), 'target')).toThrow(
      new RangeError('target must hold 0 to 1000 notes, got 1001; mark a shorter passage'),
    );
  });
});

describe('a pair on one line', () => {
  it('is on the backing’s clock without transposition unless it says otherwise', () => {
    expect(parsePairLine('{"target":[0,1],"played":[0,1]}')).toMatchObject({
      id: null,
      clock: 'backing',
      transposition: 'none',
    });
    expect(
      parsePairLine('{"id":"a","target":[0],"played":[],"clock":"free","transposition":"any"}'),
    ).toMatchObject({ id: 'a', clock: 'free', transposition: 'any' });
  });

  it.each([
    ['{', SyntaxError, /one JSON object a line/],
    ['[]', TypeError, /must be a JSON object, got \[\]/],
    ['{"target":[0]}', TypeError, /played must be given, got undefined/],
    ['{"target":[0],"played":[0],"clock":"own"}', TypeError, /clock must be one of backing, free, got "own"/],
    ['{"target":[0],"played":[0],"grades":[1]}', TypeError, /unknown key "grades"/],
    ['{"target":[0],"played":[0],"level":11}', RangeError, /level must be 1 to 10, got 11/],
    ['{"id":{},"target":[0],"played":[0]}', TypeError, /id must be a string or a number/],
  ] as const)('%s is refused', (line, error, message) => {
    expect(() => parsePairLine(line)).toThrow(error);
    expect(() => parsePairLine(line)).toThrow(message);
  });
});
