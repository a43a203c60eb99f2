import type { Key, Metre, Phrase } from '../../../music/score.ts';
import { midi, ticks } from '../../../music/units.ts';
import { underTheHand, type Place } from '../hand/position.ts';
import { spelledScale } from '../theory/scale.ts';
import { spellApproach, spellInScale } from '../theory/spelling.ts';
import type { LineNote } from './types.ts';

const HIGHEST_FRET = 24;
/** Up to here a hand position is looked for; beyond it the frets are too close for one finger each. */
const HIGHEST_POSITION = 15;

/** The lowest and highest note of a tuning. */
export const rangeOf = (tuning: readonly number[]): readonly [number, number] => [
  Math.min(...tuning),
  Math.max(...tuning) + HIGHEST_FRET,
];

/** At its lowest fret; null where no string has the note. */
function lowestFret(pitch: number, tuning: readonly number[]): Place | null {
  let best: Place | null = null;
  tuning.forEach((open, i) => {
    const fret = pitch - open;
    if (fret >= 0 && fret <= HIGHEST_FRET && (best === null || fret < best.fret))
      best = { string: tuning.length - i, fret };
  });
  return best;
}

/** String and fret of each pitch: in the lowest hand position that holds all, else each at its lowest fret. */
export function placeLine(pitches: readonly number[], tuning: readonly number[]): (Place | null)[] {
  for (let position = 1; position <= HIGHEST_POSITION; position++) {
    const places = underTheHand(tuning, position);
    if (pitches.every((pitch) => places.has(pitch))) return pitches.map((pitch) => places.get(pitch)!);
  }
  return pitches.map((pitch) => lowestFret(pitch, tuning));
}

/**
 * Spelled from the seven-note scale on the tonic: raised from its lower neighbour where the key has sharps,
 * lowered from its upper neighbour where it has flats.
 */
function spellForeign(pitch: number, key: Key): string {
  const own = spelledScale(key);
  const minor = own.steps.includes(3) && !own.steps.includes(4);
  const seven = spelledScale({ tonic: key.tonic, scale: minor ? 'minor' : 'major' });
  const inSeven = spellInScale(seven, pitch);
  if (inSeven) return inSeven;
  const flats = seven.names.some((name) => name.includes('b')) || key.tonic === 'F';
  const goal = flats ? pitch - 1 : pitch + 1;
  const goalSpelling = spellInScale(seven, goal);
  // An approach from above is a lowered letter, one from below a raised one.
  const spelling = goalSpelling && spellApproach(pitch, goal, goalSpelling);
  const [other, otherSpelling] = [2 * pitch - goal, spellInScale(seven, 2 * pitch - goal)];
  return (
    spelling ??
    (otherSpelling && spellApproach(pitch, other, otherSpelling)) ??
    spellInScale(CHROMATIC, pitch)!
  );
}

/** The last resort, where a key would need double accidentals. */
const CHROMATIC = spelledScale({ tonic: 'C', scale: 'chromatic' });

/** In the key's scale; else a semitone from the next note as that note's neighbour; else from the key. */
function spell(line: readonly LineNote[], i: number, key: Key): string {
  const { midi: pitch } = line[i]!;
  const inScale = spellInScale(spelledScale(key), pitch);
  if (inScale) return inScale;
  const next = line[i + 1]?.midi;
  if (next !== undefined && Math.abs(next - pitch) === 1) {
    const goal = spellInScale(spelledScale(key), next);
    const spelling = goal && spellApproach(pitch, next, goal);
    if (spelling) return spelling;
  }
  return spellForeign(pitch, key);
}

/**
 * A line as a phrase: spelled in the key, with string and fret.
 * @throws RangeError for a note that the tuning does not have (see {@link rangeOf}).
 */
export function writeLine(
  line: readonly LineNote[],
  { metre, bars, key, tuning }: { metre: Metre; bars: number; key: Key; tuning: readonly number[] },
): Phrase {
  const places = placeLine(
    line.map((note) => note.midi),
    tuning,
  );
  return {
    metre,
    bars,
    notes: line.map((note, i) => {
      const place = places[i];
      if (!place)
        throw new RangeError(
          `MIDI number ${note.midi} is beyond this tuning; ${rangeOf(tuning).join('…')} can be played`,
        );
      return {
        startTicks: ticks(note.startTicks),
        durationTicks: ticks(note.durationTicks),
        midi: midi(note.midi),
        spelling: spell(line, i, key),
        string: place.string,
        fret: place.fret,
      };
    }),
  };
}

/** The notes of a phrase without spelling and place. */
export const lineOf = (phrase: Phrase): LineNote[] =>
  phrase.notes.map(({ startTicks, durationTicks, midi: pitch }) => ({
    startTicks,
    durationTicks,
    midi: pitch,
  }));
