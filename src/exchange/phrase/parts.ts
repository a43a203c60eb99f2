import type { Phrase } from '../../music/score.ts';
import type { NotesTask } from '../../music/task.ts';

export interface NamedPhrase {
  readonly name: string;
  readonly phrase: Phrase;
}

const NAMES: Readonly<Record<NotesTask['kind'], string>> = {
  melody: 'Melody',
  rhythm: 'Rhythm',
  reading: 'Sight reading',
  scale: 'Scale',
};

/** What a test has to write down: its phrase, or both rhythms of its question as A and B. */
export function partsOf(test: NotesTask): readonly NamedPhrase[] {
  const { phrase } = test;
  const question = 'question' in test ? test.question : null;
  if (!question) return [{ name: NAMES[test.kind], phrase }];
  const [a, b] = question.answer === 'A' ? [phrase, question.other] : [question.other, phrase];
  return [
    { name: 'Rhythm A', phrase: a },
    { name: 'Rhythm B', phrase: b },
  ];
}
