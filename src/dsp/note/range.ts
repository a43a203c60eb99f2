import { HIGHEST, LOWEST } from '../pitch/salience.ts';

/** Pitches that may be heard: whole MIDI numbers, both included. */
export interface PitchRange {
  readonly lowest: number;
  readonly highest: number;
}

/** Which instrument is played, and how it is tuned. */
export interface Strung {
  readonly instrument: 'guitar' | 'bass';
  /**
   * Sounding MIDI numbers of the open strings, in any order: nothing is heard under the lowest of them or over the
   * highest one's 24th fret. Absent: what any such instrument may have. `'any'`: every pitch that can be heard, B0
   * to B♭6, whatever the instrument.
   */
  readonly tuning?: readonly number[] | 'any' | undefined;
}

/** Necks end here; natural harmonics up to the fifth fret's, two octaves up, lie no higher. Common practice, no source. */
const FRETS = 24;
/** Lowest and highest open string in use: guitar A1 (seven strings, the lowest dropped) and E4, bass B0 and C3 (six strings). */
const WIDEST = { guitar: [33, 64], bass: [23, 48] } as const;

/** @throws RangeError for a tuning without strings or with one that cannot be heard */
export function playable({ instrument, tuning = WIDEST[instrument] }: Strung): PitchRange {
  if (tuning === 'any') return { lowest: LOWEST, highest: HIGHEST };
  if (tuning.length === 0) throw new RangeError('a tuning needs at least one open string, got none');
  for (const open of tuning)
    if (!(Number.isInteger(open) && open >= 0 && open <= HIGHEST))
      throw new RangeError(
        `open strings are whole MIDI numbers of at most ${HIGHEST}, got ${tuning.join(', ')}`,
      );
  return {
    lowest: Math.max(LOWEST, Math.min(...tuning)),
    highest: Math.min(HIGHEST, Math.max(...tuning) + FRETS),
  };
}

export const EVERY_PITCH: PitchRange = { lowest: LOWEST, highest: HIGHEST };
