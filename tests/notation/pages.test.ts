import { describe, expect, it } from 'vitest';
import { notate, writtenAccidentals } from '../../src/notation/index.ts';
import { fifthsOf } from '../../src/music/signature.ts';
import { barTicks } from '../../src/music/metre.ts';
import { makePage, readingDifficulty } from '../../src/tests-engine/index.ts';

/** Ticks of a sign as it is printed: value, dot, three in the time of two. */
const TICKS = { w: 1920, h: 960, q: 480, '8': 240, '16': 120, '32': 60 } as const;
const pages = (level: number) =>
  Array.from({ length: 40 }, (_, seed) =>
    makePage(level, { seed, instrument: seed % 2 ? 'bass' : 'guitar' }),
  );

describe.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])('forty pages to read of level %i', (level) => {
  it('can be written sign by sign, each as long as it sounds, every bar full', () => {
    for (const { phrase } of pages(level))
      for (const bar of notate(phrase)) {
        expect(bar.reduce((sum, sign) => sum + sign.durationTicks, 0)).toBe(barTicks(phrase.metre));
        for (const sign of bar) {
          if (sign.wholeBar) continue;
          const printed = (TICKS[sign.value] * (sign.dots ? 1.5 : 1)) / (sign.tuplet === null ? 1 : 1.5);
          expect(printed).toBe(sign.durationTicks);
        }
      }
  });

  it('show the printed accidentals that their difficulty counts', () => {
    for (const page of pages(level)) {
      const bars = notate(page.phrase);
      const printed = writtenAccidentals(bars, page.phrase.notes, fifthsOf(page.key)).flat();
      const needed = printed.filter((sign) => sign !== null && !sign.courtesy).length;
      // None counted, none printed; and where some are counted at least one is printed.
      expect(needed > 0).toBe(readingDifficulty(page).parts.accidentals > 0);
    }
  });
});
