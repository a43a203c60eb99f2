import { fill, REFUSALS } from './messages.ts';
import { noteName } from './names.ts';
import type { Refused } from './refused.ts';

/** The values that are notes with their octave. */
const NOTES = ['note', 'low', 'high'];
/** "Bb3" to "B♭3", "B3", "Si♭3". */
const noteText = (spelling: string): string =>
  spelling.replace(/^([A-G][#b]*)(-?\d+)$/, (_, name: string, octave: string) => noteName(name) + octave);

/** The sentence why something was not taken, in the language spoken now. */
export const refusalText = ({ code, values }: Refused): string =>
  fill(
    REFUSALS[code],
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        typeof value === 'string' && NOTES.includes(name) ? noteText(value) : value,
      ]),
    ),
  );
