import { hasChords, type PieceBar, type PiecePart, type TempoMark } from '../../music/piece.ts';
import type { Instrument, Metre, WrittenNote } from '../../music/score.ts';
import { LIMITS } from '../../music/schema/index.ts';
import { midi, ticks } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';
import { placeAll, type Place } from '../phrase/place.ts';
import { spelledByKey } from '../phrase/spell.ts';
import type { ImportedNote } from '../phrase/imported.ts';

export interface PieceOptions {
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first. */
  readonly tuning: readonly number[];
  /** Which part with notes, from 0; a file of one needs none. */
  readonly part?: number;
  /** Which voice where two sound at once, from 0: the rest is left away. */
  readonly voice?: number;
}

/** What stands in a file of notes. */
export interface ImportedPiece extends PiecePart {
  /** Names of the parts with notes; more than one: which is read is to be chosen. */
  readonly parts: readonly string[];
  /** Voices that sound in the part. */
  readonly voices: number;
  /** Octaves by which all was moved so that the instrument has it. */
  readonly octaves: number;
}

export interface RawPiece {
  readonly title: string | null;
  readonly metre: Metre;
  readonly fifths: number | null;
  readonly minor: boolean;
  readonly bars: readonly PieceBar[];
  readonly notes: readonly ImportedNote[];
  readonly tempi: readonly TempoMark[];
  readonly swing: number;
  readonly parts: readonly string[];
  readonly voices: number;
}

/** A plain clef often means an octave less, a bass clef read for a guitar one more. */
const OCTAVES = [0, -1, 1] as const;

/** Notes of one start on strings of their own, the highest first; null where the instrument has not enough. */
function placeChord(pitches: readonly number[], tuning: readonly number[]): (Place | null)[] {
  const free = new Set(tuning.map((_, i) => i));
  const places: (Place | null)[] = pitches.map(() => null);
  for (const k of pitches.map((_, i) => i).sort((a, b) => pitches[b]! - pitches[a]!)) {
    const fits = [...free].filter(
      (i) => pitches[k]! >= tuning[i]! && pitches[k]! - tuning[i]! <= LIMITS.frets[1],
    );
    if (fits.length === 0) continue;
    const string = Math.max(...fits);
    free.delete(string);
    places[k] = { string: tuning.length - string, fret: pitches[k]! - tuning[string]! };
  }
  return places;
}

/** Legato players let notes overlap a little; a note that starts while another sounds ends it, in a single line. */
function cutOverlaps(notes: readonly ImportedNote[]): ImportedNote[] {
  const sorted = [...notes].sort((a, b) => a.startTicks - b.startTicks || a.midi - b.midi);
  if (hasChords(sorted)) return sorted;
  return sorted.map((note, i) => {
    const next = sorted[i + 1];
    return next && note.startTicks + note.durationTicks > next.startTicks
      ? { ...note, durationTicks: next.startTicks - note.startTicks }
      : note;
  });
}

/** @throws ExchangeError, one sentence: no note, too much, beyond the instrument */
export function buildPiece(raw: RawPiece, { instrument, tuning }: PieceOptions): ImportedPiece {
  if (raw.notes.length === 0) throw new ExchangeError('piece-part-empty');
  if (raw.notes.length > LIMITS.pieceNotes[1])
    throw new ExchangeError('piece-notes', { notes: raw.notes.length, most: LIMITS.pieceNotes[1] });
  const notes = cutOverlaps(raw.notes);
  const groups: number[][] = [];
  notes.forEach((note, i) => {
    if (i > 0 && note.startTicks === notes[i - 1]!.startTicks) groups.at(-1)!.push(i);
    else groups.push([i]);
  });
  const chords = groups.some((group) => group.length > 1);
  for (const octaves of OCTAVES) {
    const pitches = notes.map((note) => note.midi + 12 * octaves);
    const places: (Place | null)[] = chords
      ? groups.flatMap((group) =>
          placeChord(
            group.map((i) => pitches[i]!),
            tuning,
          ),
        )
      : [...placeAll(pitches, tuning)];
    if (places.some((place) => place === null)) continue;
    const written: WrittenNote[] = notes.map((note, i) => ({
      startTicks: ticks(note.startTicks),
      durationTicks: ticks(Math.max(1, note.durationTicks)),
      midi: midi(pitches[i]!),
      spelling:
        note.spelling === null
          ? spelledByKey(pitches[i]!, raw.fifths ?? 0)
          : note.spelling.replace(/-?\d+$/, (o) => String(Number(o) + octaves)),
      ...places[i]!,
    }));
    return { ...raw, notes: written, octaves };
  }
  const low = Math.min(...notes.map((n) => n.midi));
  const high = Math.max(...notes.map((n) => n.midi));
  throw new ExchangeError(`piece-beyond-${instrument}`, {
    low: spelledByKey(low, raw.fifths ?? 0),
    high: spelledByKey(high, raw.fifths ?? 0),
  });
}
