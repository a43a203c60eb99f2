import type { Key } from './score.ts';

/** Letters in the order in which sharps are added. */
export const CIRCLE = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/** Fifths away from the major key on the same tonic, by the mode a scale's name holds. */
const MODE_FIFTHS: readonly (readonly [RegExp, number])[] = [
  [/mixolydian/, -1],
  [/dorian/, -2],
  [/phrygian/, -4],
  [/locrian/, -5],
  [/lydian/, 1],
  [/major blues/, 0],
  [/minor|aeolian|blues/, -3],
];

/**
 * The key signature as a count of sharps (+) or flats (−), −7…7. Scales without a signature of their own
 * (pentatonic, blues, harmonic minor) take that of the major or minor key on their tonic.
 * @throws RangeError for a tonic that is not a letter with accidentals, or a signature beyond seven.
 */
export function fifthsOf(key: Key): number {
  const parts = /^([A-G])(#{0,2}|b{0,2})$/.exec(key.tonic);
  if (!parts) throw new RangeError(`tonic must be a letter A–G with # or b, got ${key.tonic}`);
  const accidentals = parts[2]!.startsWith('#') ? parts[2]!.length : -parts[2]!.length;
  const mode = MODE_FIFTHS.find(([name]) => name.test(key.scale.toLowerCase()))?.[1] ?? 0;
  const fifths = CIRCLE.indexOf(parts[1]!) - 1 + 7 * accidentals + mode;
  if (fifths < -7 || fifths > 7)
    throw new RangeError(
      `${key.tonic} ${key.scale} would need ${Math.abs(fifths)} accidentals; at most 7 are written`,
    );
  return fifths;
}
