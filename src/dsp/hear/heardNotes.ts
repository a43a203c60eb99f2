import type { HeardNote, HeardTake } from '../../notes.ts';
import { cents, db, midi as midiNumber, sec } from '../../units.ts';
import { noteConfidence } from '../note/confidence.ts';
import { tuningOffset } from '../note/tuning.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import type { NamedNote } from './name.ts';

/**
 * Named notes as `dsp` hands them out: in seconds from the signal's first sample, against the take's own
 * tuning, levels of the signal before it was scaled.
 * @param gain factor by which the take was scaled
 */
export function heardNotes(
  named: readonly NamedNote[],
  gain: number,
): Pick<HeardTake, 'notes' | 'tuningCents'> {
  const tuning = tuningOffset(
    named.map((n) => n.fine),
    named.map((n) => n.midi),
    named.map((n) => n.probability),
  );
  return {
    notes: named.map((note) => heardNote(note, tuning, gain)),
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

function heardNote(note: NamedNote, tuning: number, gain: number): HeardNote {
  const played = note.fine - tuning / 100;
  // A bent note whose mean lies just past the half-way point is still the note whose semitone was heard best.
  const stands = Math.abs(tuning) < IN_TUNE || Math.abs(played - note.midi) <= STILL_THE_SAME;
  const nearest = stands ? note.midi : Math.round(played);
  return {
    onsetSec: sec(note.at / WORK_RATE),
    offsetSec: sec(note.end / WORK_RATE),
    midi: midiNumber(nearest),
    cents: cents(Math.max(-50, Math.min(50, 100 * (played - nearest)))),
    levelDb: db(note.levelDb - 20 * Math.log10(gain)),
    confidence: noteConfidence(note),
  };
}
