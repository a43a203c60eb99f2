import type { PracticeTest } from '../../../music/score.ts';
import { t } from '../../messages.ts';
import { keyName, withinSentence } from '../../names.ts';

const facts = (test: PracticeTest) => ({
  key: keyName(test.key),
  metre: `${test.phrase.metre.beats}/${test.phrase.metre.beatUnit}`,
  bars: test.phrase.bars,
  instrument: withinSentence(t(`check.instrument.${test.instrument}`)),
});

/** "A minor, 4/4, 2 bars, 80 beats a minute, guitar". */
export const aboutPhrase = (test: PracticeTest): string =>
  t('phrases.about', { ...facts(test), tempo: Math.round(test.tempoBpm) });

/** What may be said of a test before its take. */
export const aboutOpened = (test: PracticeTest): string =>
  t('opened.about', { ...facts(test), kind: withinSentence(t(`start.kind.${test.kind}`)) });

/** A file name from a phrase's name. */
export const fileName = (name: string, ending: string): string =>
  `${
    name
      .normalize('NFD')
      .replace(/\p{M}/gu, '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'phrase'
  }.${ending}`;
