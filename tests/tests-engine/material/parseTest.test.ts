import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import { TestFormatError, makeTest, parseTest } from '../../../src/tests-engine/material/index.ts';

const melody = makeTest({ kind: 'melody', level: 2, seed: 7, instrument: 'guitar' });
const rhythm = makeTest({ kind: 'rhythm', level: 3, seed: 7, instrument: 'bass' });
const copy = (test: PracticeTest): Record<string, any> => JSON.parse(JSON.stringify(test));

/** The message a broken copy is refused with. */
function refusal(change: (test: Record<string, any>) => void, test = melody): string {
  const broken = copy(test);
  change(broken);
  try {
    parseTest(broken);
  } catch (error) {
    expect(error).toBeInstanceOf(TestFormatError);
    return (error as Error).message;
  }
  return 'accepted';
}

describe('a test read back from JSON', () => {
  it('is the same test', () => {
    for (const test of [melody, rhythm]) expect(parseTest(copy(test))).toEqual(test);
  });
  it.each<[string, (test: Record<string, any>) => void, RegExp]>([
    ['an unknown key', (t) => (t['colour'] = 'red'), /colour is a key that no test has/],
    [
      'an unknown key in a note',
      (t) => (t['phrase'].notes[0].x = 1),
      /phrase\.notes\.0\.x is a key that no test has/,
    ],
    [
      'a version of the future',
      (t) => (t['version'] = 2),
      /has version 2, this Twobar reads version 1; update/,
    ],
    ['no version', (t) => delete t['version'], /version is undefined, not 1/],
    ['NaN', (t) => (t['tempoBpm'] = NaN), /tempoBpm is NaN/],
    ['an infinite tempo', (t) => (t['tempoBpm'] = Infinity), /tempoBpm is Infinity/],
    ['a missing part', (t) => delete t['procedure'], /procedure is undefined/],
    ['a string for a number', (t) => (t['phrase'].bars = '2'), /phrase\.bars is "2"/],
    ['a fraction of a tick', (t) => (t['phrase'].notes[1].startTicks += 0.5), /startTicks is/],
    ['a level of eleven', (t) => (t['level'] = 11), /level is 11/],
    ['a style nobody plays', (t) => (t['style'] = 'polka'), /style is "polka"/],
    ['a key that is none', (t) => (t['key'].scale = 'sideways'), /key is ".* sideways", which is no key/],
    [
      'overlapping notes',
      (t) => (t['phrase'].notes[0].durationTicks += 2000),
      /begins before the note in front/,
    ],
    ['a note past the end', (t) => (t['phrase'].notes.at(-1).durationTicks += 1), /beyond the last bar line/],
    ['a fret that sounds otherwise', (t) => (t['phrase'].notes[0].fret += 1), /fret \d+ sounds/],
    ['a wrong spelling', (t) => (t['phrase'].notes[0].spelling = 'B9'), /spelled B9/],
    ['a string the tuning lacks', (t) => (t['phrase'].notes[0].string = 7), /string 7 of 6/],
    ['a grouping that does not add up', (t) => (t['phrase'].metre.grouping = [3]), /adds up to 3, not to 4/],
    [
      'a question after a melody',
      (t) => (t['question'] = { other: t['phrase'], answer: 'A' }),
      /rhythm tests only/,
    ],
  ])('is refused with one sentence: %s', (_, change, expected) => {
    const message = refusal(change);
    expect(message).toMatch(expected);
    expect(message).toMatch(/; .*\.$/);
  });
  it.each([null, undefined, 3, 'x', [], NaN])('is refused when it is %s', (value) => {
    expect(() => parseTest(value)).toThrow(TestFormatError);
  });
  it('is refused when the second rhythm is not as long', () => {
    expect(refusal((t) => (t['question'].other.bars = 3), rhythm)).toMatch(/not as long/);
  });
});
