import { describe, expect, it } from 'vitest';
import { attemptsCsv } from '../../src/store/csv.ts';
import { effectiveMark } from '../../src/store/effective.ts';
import { checkOwn } from '../../src/store/schema/index.ts';
import type { Attempt, Records } from '../../src/store/index.ts';
import { differingBeats, isRight, type Answer } from '../../src/music/question.ts';
import { earTest, markTask, practised, questionCounts } from '../../src/tests-engine/index.ts';
import { sec } from '../../src/music/units.ts';
import { performedSec } from '../../src/music/time.ts';
import { sampleAttempt } from './support/sample.ts';

const ID = (c: string) => c.repeat(32);
const NONE: Records = {
  students: [],
  attempts: [],
  overrides: [],
  lessonNotes: [],
  homework: [],
  blindMarks: [],
  sittings: [],
  settings: [],
};

/** A rhythm played as it is written, and what was answered. */
function played(answer: Answer | null, counts: boolean): Attempt {
  const sample = sampleAttempt(ID('b'), 1);
  const { test } = sample;
  const notes = test.phrase.notes.map((note) => ({
    ...sample.take.notes[0]!,
    onsetSec: sec(performedSec(note.startTicks, test)),
    offsetSec: sec(performedSec(note.startTicks, test) + 0.1),
    midi: note.midi,
    confidence: 1,
  }));
  const take = { ...sample.take, notes, heard: { verdict: 'ok', reason: null } as const };
  const mark = markTask(test, take, { latencyUncertaintyMs: 6 });
  const whole = { ...sample, take, mark, answer, id: ID('a'), atMs: 1000, order: 1000 };
  return counts ? { ...whole, answerCounts: true } : whole;
}
const { question } = earTest(played(null, false).test)!;
const wrong = question!.answer === 'A' ? 'B' : 'A';

describe('an answer in the record', () => {
  it('that is wrong and counts is never "there", though every note was; the mark stays', () => {
    expect(played(wrong, true).mark.outcome).toBe('there');
    const mark = effectiveMark(played(wrong, true), []);
    expect([mark.outcome, mark.mark]).toEqual(['close', played(wrong, true).mark.mark]);
    const override = { id: ID('c'), attemptId: ID('a'), studentId: ID('b'), atMs: 1, order: 1 };
    const given = { ...override, verdicts: [], mark: 100, remark: '' };
    expect(effectiveMark(played(wrong, true), [given]).outcome).toBe('close');
  });
  it('that is right, does not count, or was not given changes nothing', () => {
    for (const attempt of [played(question!.answer, true), played(wrong, false), played(null, true)])
      expect(effectiveMark(attempt, [])).toEqual(attempt.mark);
  });
  it('is kept as a letter or as a beat, and nothing else', () => {
    for (const answer of ['A', { form: 'beat', beat: 3 }, { form: 'part', beat: 0 }, null] as const) {
      const kept = checkOwn('attempts', played(answer, true)) as Attempt;
      expect([kept.answer, kept.answerCounts]).toEqual([answer, true]);
    }
    for (const answer of [
      'C',
      { form: 'which', beat: 1 },
      { form: 'part', beat: -1 },
      { form: 'part', beat: 0.5 },
    ])
      expect(() => checkOwn('attempts', played(answer as Answer, true))).toThrow(TypeError);
  });
  it('stands in the table, with how it was asked', () => {
    const beat = differingBeats(earTest(played(null, false).test)!)[0]!;
    const rows = ([wrong, { form: 'part', beat }, null] as const).map((answer) => {
      const [head, row] = attemptsCsv({ ...NONE, attempts: [played(answer, true)] })
        .slice(1)
        .split('\r\n')
        .map((line) => line.split(','));
      return ['answer_right', 'question', 'outcome'].map((column) => row![head!.indexOf(column)]);
    });
    expect(rows).toEqual([
      ['no', 'which', 'close'],
      ['yes', 'part', 'there'],
      ['', '', 'there'],
    ]);
  });
  it('is counted in progress by how it was asked', () => {
    const facts = (answer: Answer) => {
      const { test, id, atMs, order, manner, mark } = played(answer, false);
      const form = typeof answer === 'string' ? ('which' as const) : answer.form;
      return practised({
        ...{ id, atMs, order, manner, mark, test },
        question: { form, right: isRight(earTest(test)!, answer)! },
      });
    };
    const record = [
      facts(wrong),
      facts(question!.answer),
      facts(question!.answer),
      facts({ form: 'beat', beat: 99 }),
    ];
    expect(questionCounts(record)).toEqual([
      { form: 'which', right: 2, of: 3 },
      { form: 'beat', right: 0, of: 1 },
    ]);
    const [silent] = [practised({ ...played(null, false), question: null })];
    expect(silent).not.toHaveProperty('question');
  });
});
