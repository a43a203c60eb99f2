import type { Instrument, Phrase, PracticeTest } from '../music/score.ts';
import type { NotesTask } from '../music/task.ts';
import type { AskedPage } from '../tests-engine/index.ts';
import type { ChordName, Piece } from './engraving/layout.ts';
import { t } from './messages.ts';
import { settings } from './settings/settings.svelte.ts';
import { noteName } from './names.ts';

/** What to engrave of a test: its phrase, or another in its place. */
export const pieceOf = (
  test: NotesTask,
  options: Partial<Piece> = {},
  phrase: Phrase = test.phrase,
): Piece => ({
  phrase,
  key: test.key,
  instrument: test.instrument,
  strings: test.tuning.length,
  mirrored: settings.now.mirroredTab,
  tempoBpm: test.tempoBpm,
  swing: test.swing,
  swingWords: t('score.swing'),
  signs: true,
  heading: true,
  tab: true,
  ...options,
});

/** A page to read, before it is a task of anybody: on a staff alone. */
export const pieceOfPage = (page: AskedPage, instrument: Instrument, strings: number): Piece => ({
  phrase: page.phrase,
  key: page.key,
  instrument,
  strings,
  mirrored: settings.now.mirroredTab,
  tempoBpm: page.tempoBpm,
  swing: 0.5,
  swingWords: t('score.swing'),
  signs: true,
  heading: true,
  tab: false,
  ...(page.signs ? { pageSigns: page.signs } : {}),
});

/** "Bbm7b5/Eb" as it is printed: "B♭m7♭5/E♭", its notes named as notes are named now. */
const chordName = (symbol: string): string =>
  symbol
    .split('/')
    .map((part) => {
      const [, note = '', rest = ''] = /^([A-G](?:##?|bb?)?)(.*)$/.exec(part) ?? [];
      return noteName(note) + rest.replaceAll('b', '♭').replaceAll('#', '♯');
    })
    .join('/');

/** The chords behind a test, as they are printed over its notes once it is over; none in tests from before there were. */
export const chordNames = ({ backing }: PracticeTest): ChordName[] =>
  (backing?.chords ?? []).map(({ startTicks, symbol }) => ({ atTicks: startTicks, name: chordName(symbol) }));

/** The two rhythms of a test's question, A first, each on one line, the same beat at the same place in both. */
export function rivalPieces(test: PracticeTest): { letter: 'A' | 'B'; piece: Piece }[] {
  const { phrase, question } = test;
  if (!question) return [];
  const a = question.answer === 'A' ? phrase : question.other;
  const b = question.answer === 'A' ? question.other : phrase;
  const options = { tab: false, heading: false, oneLine: true };
  return [
    { letter: 'A', piece: pieceOf(test, { ...options, beside: b }, a) },
    { letter: 'B', piece: pieceOf(test, { ...options, beside: a, besideFirst: true }, b) },
  ];
}
