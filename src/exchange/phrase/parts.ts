import type { Phrase, PracticeTest, TestKind } from '../../music/score.ts';

export interface NamedPhrase {
  readonly name: string;
  readonly phrase: Phrase;
}

const NAMES: Readonly<Record<TestKind, string>> = { melody: 'Melody', rhythm: 'Rhythm' };

/** What a test has to write down: its phrase, or both rhythms of its question as A and B. */
export function partsOf(test: PracticeTest): readonly NamedPhrase[] {
  const { question, phrase } = test;
  if (!question) return [{ name: NAMES[test.kind], phrase }];
  const [a, b] = question.answer === 'A' ? [phrase, question.other] : [question.other, phrase];
  return [
    { name: 'Rhythm A', phrase: a },
    { name: 'Rhythm B', phrase: b },
  ];
}
