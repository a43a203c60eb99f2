import type { MetreName } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import { type BarRhythm, beginsTied, drawBar, drawCadence, soundsOn } from './rhythm.ts';
import type { ReadingLevel } from './types.ts';

/** What a bar is in its page. */
export interface FormBar {
  readonly rhythm: BarRhythm;
  /** The bar whose notes it takes up again, or null where it goes its own way. */
  readonly answers: number | null;
  /** `half`: the phrase asks and stays open; `full`: it closes on the tonic. */
  readonly cadence: 'half' | 'full' | null;
  /** Degree (1…7) of the triad that its stressed notes come from. */
  readonly chord: number;
}

/** Triads of the bars before a cadence; a cadence bar stands on the fifth or the first degree. Common practice, no source. */
const OPENINGS = [
  [1, 4, 1],
  [1, 6, 4],
  [1, 5, 1],
  [1, 2, 1],
  [1, 3, 4],
] as const;

/**
 * The plan of a page: phrases that answer each other. Of four bars: a b a′ cadence, then a b c cadence; of two: a
 * cadence, a cadence. The third phrase of three begins otherwise and comes back. Inner phrases end open (half
 * cadence), the last one closes.
 */
export function drawForm(
  level: ReadingLevel,
  metre: MetreName,
  [phraseBars, phrases]: readonly [2 | 4, 2 | 3],
  random: Random,
): FormBar[] {
  const filling = { level, metre, random };
  const bars: FormBar[] = [];
  const chords = random.pick(OPENINGS);
  const fresh = (): BarRhythm => {
    const before = bars.at(-1)?.rhythm;
    return drawBar(
      filling,
      level.tiesOverBars && before !== undefined && soundsOn(before),
      bars.length === 0,
    );
  };
  for (let phrase = 0; phrase < phrases; phrase++) {
    const contrast = phrases === 3 && phrase === 1;
    for (let k = 0; k < phraseBars; k++) {
      const bar = phrase * phraseBars + k;
      if (k === phraseBars - 1) {
        const last = phrase === phrases - 1;
        bars.push({
          rhythm: drawCadence(filling, !last && random.chance(1, 2)),
          answers: null,
          cadence: last ? 'full' : 'half',
          chord: last ? 1 : 5,
        });
        continue;
      }
      // What is taken up: the opening bar in bar 3 of a phrase and in a later phrase; the second bar in a later one.
      const source = k === 2 ? bar - 2 : phrase > 0 && !contrast && k < 2 ? k : null;
      const again = source === null || (k === 2 && phrase > 0 && random.chance(1, 2)) ? null : bars[source]!;
      const before = bars.at(-1)?.rhythm;
      const fits = again && (!beginsTied(again.rhythm) || (before !== undefined && soundsOn(before)));
      bars.push({
        rhythm: fits ? again.rhythm : fresh(),
        answers: fits ? source : null,
        cadence: null,
        chord: contrast ? [6, 4, 2][k]! : chords[k]!,
      });
    }
  }
  return bars;
}
