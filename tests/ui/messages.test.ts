import { describe, expect, it } from 'vitest';
import { adviceText } from '../../src/ui/advice.ts';
import { ADVICE, AUDIO_PROBLEMS, fill, MESSAGES, NOT_MARKED, t } from '../../src/ui/messages.ts';
import type { AdviceCode } from '../../src/tests-engine/index.ts';

const explained = [...Object.values(AUDIO_PROBLEMS), ...Object.values(NOT_MARKED)];
const all = [
  ...Object.values<string>(MESSAGES),
  ...Object.values(ADVICE),
  ...explained.flatMap(({ text, remedy }) => [text, remedy]),
];

describe('the catalogue', () => {
  it('shouts nowhere and leaves no text empty', () => {
    for (const text of all) expect(text.trim() !== '' && !text.includes('!'), text).toBe(true);
  });
  it('gives a remedy with every problem', () => {
    for (const { text, remedy } of explained) expect(remedy !== '' && remedy !== text, text).toBe(true);
  });
  it('puts values in, and leaves a name without a value visible', () => {
    expect(t('check.step', { number: 2, count: 6 })).toBe('Question 2 of 6');
    expect(fill('{a} and {b}', { a: 1 })).toBe('1 and {b}');
  });
});

describe('advice', () => {
  const say = (code: AdviceCode, values: Record<string, number | string> = {}) =>
    adviceText({ code, values });
  it('names place, interval and direction', () => {
    expect(say('wrong-note', { bar: 2, beat: 3, semitones: -2 })).toMatch(
      /^One note was a tone too low, at bar 2, beat 3\./,
    );
    expect(say('wrong-note', { note: 4, semitones: 1 })).toMatch(/a semitone too high, at note 4/);
    expect(say('wrong-start', { semitones: 5 })).toMatch(/5 semitones too high/);
    expect(say('octave-off', { octaves: -1 })).toMatch(/an octave lower/);
  });
  it('counts in beats where it can, else in ms', () => {
    expect(say('came-in-late', { beats: 0.5 })).toMatch(/half a beat late/);
    expect(say('came-in-late', { beats: 1 })).toMatch(/ a beat late/);
    expect(say('came-in-late', { ms: 240 })).toMatch(/240 ms late/);
  });
  it('leaves no value open, whatever the code', () => {
    const values = {
      bar: 1,
      beat: 2,
      note: 3,
      semitones: 2,
      octaves: 1,
      count: 2,
      of: 8,
      ms: 40,
      percent: 6,
      beats: 1,
    };
    for (const code of Object.keys(ADVICE) as AdviceCode[])
      expect(say(code, values), code).not.toMatch(/[{}]|undefined/);
  });
});
