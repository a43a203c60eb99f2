import {
  chordClasses,
  parseChord,
  pitchClass,
  quality,
  type AskedChord,
  type TestChord,
} from '../../../music/chords/index.ts';

/**
 * What the ear is asked for: the notes of the shape in this tuning, or the name's tones in any voicing. In a chord of four tones and
 * more its fifth may lack, as players leave it out; the bass counts where the name has one.
 * @throws RangeError for a symbol that is no chord, or a shape of more strings than the tuning has.
 */
export function askedOf({ symbol, frets }: TestChord, tuning: readonly number[]): AskedChord {
  if (frets) {
    if (frets.length > tuning.length)
      throw new RangeError(
        `${symbol} is fingered on ${frets.length} strings, the tuning has ${tuning.length}`,
      );
    const notes = frets.flatMap((fret, i) => (fret === null ? [] : [tuning[i]! + fret]));
    return { shapes: [notes.sort((a, b) => a - b)] };
  }
  const chord = parseChord(symbol);
  if (!chord) throw new RangeError(`"${symbol}" is no chord name; write for example C, F#m7 or D/F#`);
  const classes = chordClasses(chord);
  const bass = chord.bass === null ? null : pitchClass(chord.bass)!;
  const optional =
    classes.length > 3 && quality(chord.quality).intervals.includes(7) ? [(classes[0]! + 7) % 12] : [];
  return {
    classes: bass === null || classes.includes(bass) ? classes : [...classes, bass],
    optional: optional.filter((pc) => pc !== bass),
    bass,
  };
}
