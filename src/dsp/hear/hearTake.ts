import type { HeardNote, HeardTake } from '../../notes.ts';
import { cents, db, midi as midiNumber, sec } from '../../units.ts';
import { accept } from '../decision/accept.ts';
import { tuningOffset } from '../note/tuning.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { analyse } from './analysis.ts';
import { nameNotes } from './name.ts';
import type { NamedNote } from './name.ts';
import { toWorkRate } from './toWorkRate.ts';

export interface HearOptions {
  readonly instrument: 'guitar' | 'bass';
}

/** One threshold on the combined onset strength. */
const THRESHOLD = 0.25;

/**
 * Hears a recorded take: which notes were plucked, when, and how sure that is.
 *
 * @param signal mono samples, −1…1; not changed
 * @param sampleRate 8000…192000 Hz; everything is resampled to {@link WORK_RATE}
 * @throws RangeError for a rate outside the range
 */
export function hearTake(signal: Float32Array, sampleRate: number, _options: HearOptions): HeardTake {
  const analysis = analyse(toWorkRate(signal, sampleRate));
  const accepted = accept(analysis.possible, (p) => Math.min(1, p.candidate.strength), THRESHOLD);
  const named = nameNotes(analysis, accepted);
  const tuning = tuningOffset(
    named.map((n) => n.fine),
    named.map((n) => n.probability),
  );
  return {
    notes: named.map((note) => heardNote(note, tuning, analysis.take.gain)),
    tuningCents: cents(tuning),
    heard: { verdict: named.length > 0 ? 'ok' : 'refused', reason: named.length > 0 ? null : 'silence' },
  };
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
