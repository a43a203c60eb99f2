import { describe, expect, it } from 'vitest';
import { adviceText } from '../../src/ui/advice.ts';
import { ADVICE, AUDIO_PROBLEMS, fill, MESSAGES, NOT_MARKED, t } from '../../src/ui/messages.ts';
import type { HeardTake } from '../../src/music/notes.ts';
import type { Metre, PracticeTest } from '../../src/music/score.ts';
import { cents, midi, sec, ticks } from '../../src/music/units.ts';
import { feltBeats, makeTest, markTask, standardTuning, targetOf } from '../../src/tests-engine/index.ts';
import type { AdviceCode } from '../../src/tests-engine/index.ts';
import { placeOf } from '../../src/ui/place.ts';

const explained = [...Object.values(AUDIO_PROBLEMS), ...Object.values(NOT_MARKED)];
const all = [
  ...Object.values(MESSAGES).flatMap((text) => (typeof text === 'string' ? text : Object.values(text))),
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

/** A phrase of one note at each of these ticks. */
function phraseOf(metre: Metre, ...starts: number[]): Pick<PracticeTest, 'phrase'> {
  const notes = starts.map((start) => ({
    ...{ startTicks: ticks(start), durationTicks: ticks(120), midi: midi(52) },
    ...{ spelling: 'E3', string: 4, fret: 2 },
  }));
  return { phrase: { metre, bars: 2, notes } };
}
const FOUR: Metre = { beats: 4, beatUnit: 4, grouping: [2, 2] };
const SIX: Metre = { beats: 6, beatUnit: 8, grouping: [3, 3] };
const SEVEN: Metre = { beats: 7, beatUnit: 8, grouping: [2, 2, 3] };

describe('advice', () => {
  const say = (
    code: AdviceCode,
    values: Record<string, number | string> = {},
    test = phraseOf(FOUR, 0, 480, 960, 2880),
  ) => adviceText({ code, values }, test);
  it('names place, interval and direction', () => {
    expect(say('wrong-note', { note: 4, semitones: -2 })).toMatch(
      /^One note was a tone too low, at bar 2, beat 3\./,
    );
    expect(say('wrong-note', { note: 9, semitones: 1 })).toMatch(/a semitone too high, at note 9/);
    expect(say('wrong-start', { semitones: 5 })).toMatch(/5 semitones too high/);
    expect(say('octave-off', { octaves: -1 })).toMatch(/an octave lower/);
  });
  it('counts in beats where it can, else in ms', () => {
    expect(say('came-in-late', { beats: 0.5 })).toMatch(/half a beat late/);
    expect(say('came-in-late', { beats: 1 })).toMatch(/ a beat late/);
    expect(say('came-in-late', { ms: 240 })).toMatch(/240 ms late/);
  });
  it('says an off-beat as it is counted, not by the beat before it', () => {
    const at = (tick: number) =>
      /at (bar [^.]*)\./.exec(say('missed-note', { note: 1 }, phraseOf(FOUR, tick)))?.[1];
    expect([2880, 3120, 3000, 3240, 3040, 3200].map(at)).toEqual([
      'bar 2, beat 3',
      'bar 2, beat 3 “and”',
      'bar 2, second semiquaver of beat 3',
      'bar 2, last semiquaver of beat 3',
      'bar 2, second triplet note of beat 3',
      'bar 2, third triplet note of beat 3',
    ]);
  });
  it('counts 6/8 and 7/8 in the beats of their count-in', () => {
    expect(feltBeats(SIX)).toHaveLength(2);
    const six = (tick: number) => placeOf(phraseOf(SIX, tick), 0);
    expect([1440, 2160, 2400, 2640].map(six)).toEqual([
      'bar 2, beat 1',
      'bar 2, beat 2',
      'bar 2, second quaver of beat 2',
      'bar 2, third quaver of beat 2',
    ]);
    const seven = (tick: number) => placeOf(phraseOf(SEVEN, tick), 0);
    expect([480, 720, 960, 1440].map(seven)).toEqual([
      'bar 1, beat 2',
      'bar 1, beat 2 “and”',
      'bar 1, beat 3',
      'bar 1, third quaver of beat 3',
    ]);
    // Three quavers of 6/8 are one beat of its count.
    expect(say('came-in-late', { beats: 3 }, phraseOf(SIX, 0))).toMatch(/in a beat late/);
    expect(say('came-in-late', { beats: 1 }, phraseOf(SIX, 0))).toMatch(/a third of a beat late/);
    expect(say('came-in-late', { beats: 2 }, phraseOf(SEVEN, 0))).toMatch(/2 quavers late/);
  });
  it('says of a marked take where its wrong note was written, in every metre of the ladder', () => {
    for (const [level, wanted] of [
      [5, FOUR],
      [6, SIX],
      [9, SEVEN],
    ] as const) {
      let seed = 1;
      let test = makeTest({
        kind: 'melody',
        level,
        seed,
        instrument: 'guitar',
        tuning: standardTuning('guitar').strings,
      });
      while (test.phrase.metre.beats !== wanted.beats)
        test = makeTest({
          kind: 'melody',
          level,
          seed: ++seed,
          instrument: 'guitar',
          tuning: standardTuning('guitar').strings,
        });
      const due = targetOf(test.phrase, test);
      for (const wrong of [1, 3, due.length - 1]) {
        const notes = due.map(({ onsetSec, midi: pitch }, i) => ({
          ...{
            onsetSec: sec(onsetSec),
            offsetSec: sec(onsetSec + 0.1),
            midi: midi(pitch! + (i === wrong ? 3 : 0)),
          },
          ...{ cents: cents(0), confidence: 1, levelDb: -12 },
        }));
        const take = {
          notes,
          tuningCents: cents(0),
          heard: { verdict: 'ok', reason: null },
        } as unknown as HeardTake;
        const { advice } = markTask(test, take);
        expect(adviceText(advice, test), `${level} ${seed} ${wrong}`).toContain(
          `at ${placeOf(test, wrong)}.`,
        );
      }
    }
  });
  it('leaves no value open, whatever the code', () => {
    const values = {
      bar: 1,
      toBar: 2,
      beat: 2,
      note: 3,
      semitones: 2,
      octaves: 1,
      count: 2,
      of: 8,
      ms: 40,
      percent: 6,
      beats: 1,
      bpm: 80,
      asked: 90,
      ratio: 1.2,
      dB: 4,
      fromString: 4,
      nextString: 3,
      position: 5,
      bars: '3, 5',
    };
    for (const code of Object.keys(ADVICE) as AdviceCode[])
      expect(say(code, values), code).not.toMatch(/[{}]|undefined/);
  });
});
