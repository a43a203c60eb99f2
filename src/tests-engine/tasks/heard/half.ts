import { barTicks } from '../../../music/metre.ts';
import type { Phrase, PracticeTest } from '../../../music/score.ts';
import { ticks } from '../../../music/units.ts';
import type { Half } from '../../procedure/options.ts';

const cutOf = ({ metre, bars }: Phrase): number => Math.ceil(bars / 2) * barTicks(metre);

/** Only a phrase of two bars or more with a note struck in either half can be learnt by halves. */
export function canHalve(phrase: Phrase): boolean {
  if (phrase.bars < 2) return false;
  const cut = cutOf(phrase);
  return phrase.notes.some((n) => n.startTicks < cut) && phrase.notes.some((n) => n.startTicks >= cut);
}

/**
 * One half of a phrase, cut at a bar line; of an odd number of bars the first half has one more. A note that is held
 * across the cut ends there; the second half begins with the notes struck in it.
 */
export function halfPhrase(phrase: Phrase, half: Half): Phrase {
  if (!canHalve(phrase))
    throw new RangeError(
      `only a phrase of two bars or more with notes in both has halves, this one has ${phrase.bars} and ${phrase.notes.length} notes`,
    );
  const cutBar = Math.ceil(phrase.bars / 2);
  const cut = cutOf(phrase);
  const notes =
    half === 'first'
      ? phrase.notes
          .filter((n) => n.startTicks < cut)
          .map((n) => ({ ...n, durationTicks: ticks(Math.min(n.durationTicks, cut - n.startTicks)) }))
      : phrase.notes
          .filter((n) => n.startTicks >= cut)
          .map((n) => ({ ...n, startTicks: ticks(n.startTicks - cut) }));
  const bars = half === 'first' ? cutBar : phrase.bars - cutBar;
  return { ...phrase, bars, notes };
}

/**
 * The test of one half of the phrase, with the chords of its own bars. The question about two rhythms belongs to the
 * whole and is left out.
 */
export function halfOf<T extends PracticeTest>(test: T, half: Half): T {
  const { phrase } = test;
  const whole = { ...test, phrase: halfPhrase(phrase, half), question: null };
  if (!test.backing) return whole;
  const cut = Math.ceil(phrase.bars / 2) * barTicks(phrase.metre);
  const [from, to] = half === 'first' ? [0, cut] : [cut, phrase.bars * barTicks(phrase.metre)];
  const chords = test.backing.chords
    .filter(({ startTicks, durationTicks }) => startTicks < to && startTicks + durationTicks > from)
    .map(({ startTicks, durationTicks, symbol }) => {
      const start = Math.max(startTicks, from);
      const end = Math.min(startTicks + durationTicks, to);
      return { startTicks: ticks(start - from), durationTicks: ticks(end - start), symbol };
    });
  return { ...whole, backing: { ...test.backing, chords } };
}
