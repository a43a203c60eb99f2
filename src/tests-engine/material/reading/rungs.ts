import type { Instrument, Key } from '../../../music/score.ts';
import { underTheHand } from '../hand/position.ts';
import { spelledScale } from '../../../music/key.ts';
import { spellInScale } from '../theory/spelling.ts';
import { ledgerLines } from './staff.ts';
import type { ReadingLevel } from './types.ts';

/** A note of the key under the hand. */
export interface Rung {
  readonly midi: number;
  readonly spelling: string;
  /** 1…7. */
  readonly degree: number;
  /** Scale notes above the lowest one there is: neighbours differ by one, whatever the hand's position. */
  readonly step: number;
  readonly string: number;
  readonly fret: number;
}

/** Notes of a key under the hand at `fret`, within the level's ledger lines, rising. */
export function rungsAt(
  level: ReadingLevel,
  instrument: Instrument,
  tuning: readonly number[],
  key: Key,
  fret: number,
): Rung[] {
  const scale = spelledScale(key);
  const [under, over] = level.ledgers;
  return [...underTheHand(tuning, fret)]
    .sort(([a], [b]) => a - b)
    .flatMap(([midi, place]): Rung[] => {
      const above = (((midi - scale.tonicPc) % 12) + 12) % 12;
      const index = scale.steps.indexOf(above);
      if (index < 0) return [];
      const spelling = spellInScale(scale, midi)!;
      const lines = ledgerLines(spelling, instrument);
      if (lines < -under || lines > over) return [];
      const octave = (midi - above - scale.tonicPc) / 12;
      return [{ midi, spelling, degree: index + 1, step: octave * scale.steps.length + index, ...place }];
    });
}
