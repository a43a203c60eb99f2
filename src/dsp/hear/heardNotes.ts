import type { HeardNote, HeardTake } from '../../music/notes.ts';
import { cents, db, midi as midiNumber, sec } from '../../music/units.ts';
import { noteConfidence } from '../note/confidence.ts';
import { EVERY_PITCH } from '../note/range.ts';
import type { PitchRange } from '../note/range.ts';
import { tuningOffset } from '../note/tuning.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import type { NamedNote } from './name.ts';

/**
 * Named notes as `dsp` hands them out: in seconds from the signal's first sample, against the take's own
 * tuning, levels of the signal before it was scaled. None that the instrument does not have.
 * @param gain factor by which the take was scaled
 */
export function heardNotes(
  named: readonly NamedNote[],
  gain: number,
  range = EVERY_PITCH,
): Pick<HeardTake, 'notes' | 'tuningCents'> {
  const { cents: tuning, agreement } = tuningOffset(
    named.map((n) => n.fine),
    named.map((n) => n.midi),
    // Squared, because an unclear note's fine pitch strays by half a semitone and a clear one's by cents.
    named.map((n) => n.probability * n.salience ** 2),
  );
  return {
    notes: named.flatMap((note) => heardNote(note, tuning, gain, agreement < AGREED, range) ?? []),
    tuningCents: cents(Math.max(-50, Math.min(50, tuning))),
  };
}

/** Semitones: half of one, and 12 cents for the error of a mean over a bend. */
const STILL_THE_SAME = 0.62;
/**
 * In a take less than this out of tune, cents, the semitone heard stands: a fine pitch that strays from it is a short
 * or noisy note's error (of 67 wrong pitches in a cross-validated run some 40 were).
 */
const IN_TUNE = 25;
/** So it does where the notes do not agree on a tuning: two groups 10 cents either side of it reach 0.8. */
const AGREED = 0.8;
/** And in any other it gives way only to one that the fine pitch hits, semitones. */
const CLEARLY = 0.2;

/** The note as handed out; null where the instrument does not have it. */
function heardNote(
  note: NamedNote,
  tuning: number,
  gain: number,
  unsure: boolean,
  { lowest, highest }: PitchRange,
): HeardNote | null {
  const played = note.fine - tuning / 100;
  // A bent note whose mean lies just past the half-way point is still the note whose semitone was heard best.
  const stands = unsure || Math.abs(tuning) < IN_TUNE || Math.abs(played - note.midi) <= STILL_THE_SAME;
  const other = Math.round(played);
  const heard = stands || Math.abs(played - other) > CLEARLY ? note.midi : other;
  // The lowest string alone may be out of tune, and the highest note bent.
  const nearest = Math.max(lowest, Math.min(highest, heard));
  if (nearest !== heard && Math.abs(played - nearest) > STILL_THE_SAME) return null;
  return {
    onsetSec: sec(note.at / WORK_RATE),
    offsetSec: sec(note.end / WORK_RATE),
    midi: midiNumber(nearest),
    cents: cents(Math.max(-50, Math.min(50, 100 * (played - nearest)))),
    levelDb: db(note.levelDb - 20 * Math.log10(gain)),
    confidence: noteConfidence(note),
  };
}
