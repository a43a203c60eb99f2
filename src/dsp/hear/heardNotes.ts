import type { HeardNote, HeardTake } from '../../notes.ts';
import { cents, db, midi as midiNumber, sec } from '../../units.ts';
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
    named.map((n) => n.probability),
  );
  return { notes: named.map((note) => heardNote(note, tuning, gain)), tuningCents: cents(tuning) };
}

function heardNote(note: NamedNote, tuning: number, gain: number): HeardNote {
  const played = note.fine - tuning / 100;
  const nearest = Math.round(played);
  return {
    onsetSec: sec(note.at / WORK_RATE),
    offsetSec: sec(note.end / WORK_RATE),
    midi: midiNumber(nearest),
    cents: cents(100 * (played - nearest)),
    levelDb: db(note.levelDb - 20 * Math.log10(gain)),
    confidence: Math.min(1, note.probability),
  };
}
