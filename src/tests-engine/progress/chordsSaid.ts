import type { ChordTest } from '../../music/chords/index.ts';
import type { ChordMark } from '../marks/anyMark.ts';
import { TOLERANCE_MS } from '../marks/chords/index.ts';
import type { ChordSaid } from './types.ts';

/** What an attempt at chords says of each chord that was asked for, and of the change to it. */
export function chordsSaid({ chords }: ChordTest, mark: ChordMark): ChordSaid[] {
  if (mark.mark === null) return [];
  return mark.verdicts.flatMap(({ kind, askedIndex, errorMs }): ChordSaid[] => {
    if (askedIndex === null) return [];
    const { symbol, frets, startTicks } = chords[askedIndex]!;
    const before = chords[askedIndex - 1]?.symbol ?? null;
    return [
      {
        symbol,
        shape: frets && frets.map((fret) => fret ?? 'x').join(' '),
        right: kind === 'unsure' ? null : kind === 'yes',
        // A change is one from another chord, in time; what was not struck came too late as well.
        from: startTicks === null || before === symbol ? null : before,
        inTime: kind === 'missed' ? false : errorMs === null ? null : errorMs <= TOLERANCE_MS,
      },
    ];
  });
}
