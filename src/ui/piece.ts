import type { Phrase, PracticeTest } from '../music/score.ts';
import type { Piece } from './engraving/layout.ts';
import { t } from './messages.ts';

/** What to engrave of a test: its phrase, or another in its place. */
export const pieceOf = (
  test: PracticeTest,
  options: Partial<Piece> = {},
  phrase: Phrase = test.phrase,
): Piece => ({
  phrase,
  key: test.key,
  instrument: test.instrument,
  strings: test.tuning.length,
  tempoBpm: test.tempoBpm,
  swing: test.swing,
  swingWords: t('score.swing'),
  signs: true,
  heading: true,
  tab: true,
  ...options,
});
