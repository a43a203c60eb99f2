import { isPitched } from '../../music/kinds.ts';
import type { Instrument, PracticeTest, TestKind, WrittenNote } from '../../music/score.ts';
import { LIMITS } from '../../music/schema/index.ts';
import { bpm, midi, sec, ticks } from '../../music/units.ts';
import { BeyondInstrument, ExchangeError } from '../error.ts';
import type { ImportedNote, ImportedPhrase } from './imported.ts';
import { barTicksOf } from './metre.ts';
import { placeAll } from './place.ts';
import { tonicOf } from './modes.ts';
import { spelledByKey } from './spell.ts';

export interface ImportOptions {
  readonly kind: TestKind;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first. */
  readonly tuning: readonly number[];
  /** Backing style, a name of the app's list. */
  readonly style: string;
  /** Octaves by which the whole part is moved; a plain clef often means one less. None when absent. */
  readonly octaves?: number;
}

/** The longest phrase that is a test. */
export const MOST_BARS = LIMITS.bars[1];
/** Moderate; where the file gives no tempo. */
const USUAL_BPM = 80;
const [SLOWEST_BPM, FASTEST_BPM] = LIMITS.tempoBpm;
/** Legato players let notes overlap a little; more than a semiquaver is a second voice. */
const OVERLAP_TICKS = 120;
const HEARINGS = 2;
/** The practice window lasts four times the phrase, as at the first levels, within the limits of a test. */
const PRACTICE_PHRASES = 4;

/** Sorts, cuts small overlaps, and refuses two notes at once. */
function oneVoice(notes: readonly ImportedNote[], barTicks: number): ImportedNote[] {
  const sorted = [...notes].sort((a, b) => a.startTicks - b.startTicks);
  return sorted.map((note, i) => {
    const next = sorted[i + 1];
    if (!next) return note;
    const over = note.startTicks + note.durationTicks - next.startTicks;
    if (next.startTicks === note.startTicks || over > OVERLAP_TICKS)
      throw new ExchangeError('two-notes', { bar: Math.floor(next.startTicks / barTicks) + 1 });
    return over > 0 ? { ...note, durationTicks: note.durationTicks - over } : note;
  });
}

/** "Bb3" by so many octaves. */
const inOctave = (spelling: string | null, by: number): string | null =>
  spelling?.replace(/-?\d+$/, (octave) => String(Number(octave) + by)) ?? null;

/** Moves the phrase to begin in its first bar that has a note. */
function fromFirstBar(notes: readonly ImportedNote[], barTicks: number): ImportedNote[] {
  const empty = Math.floor(notes[0]!.startTicks / barTicks) * barTicks;
  return notes.map((note) => ({ ...note, startTicks: note.startTicks - empty }));
}

/**
 * A teacher's phrase as a test: its notes, key and tempo from the file; string and fret chosen in one hand
 * position where there is one. A rhythm is put on the lowest string. Level and seed are null.
 *
 * @throws ExchangeError, one sentence: no note, two notes at once, beyond the instrument, more than
 *   {@link MOST_BARS} bars, a tempo that no test has.
 */
export function buildTest(imported: ImportedPhrase, options: ImportOptions): PracticeTest {
  const { metre } = imported;
  const barTicks = barTicksOf(metre);
  if (imported.notes.length === 0) throw new ExchangeError('no-note');
  const notes = fromFirstBar(oneVoice(imported.notes, barTicks), barTicks);
  const last = notes[notes.length - 1]!;
  const bars = Math.ceil((last.startTicks + last.durationTicks) / barTicks);
  if (bars > MOST_BARS) throw new ExchangeError('phrase-long', { bars, most: MOST_BARS });
  const tempoBpm = imported.tempoBpm ?? USUAL_BPM;
  if (!(tempoBpm >= SLOWEST_BPM && tempoBpm <= FASTEST_BPM))
    throw new ExchangeError('tempo-beyond', {
      tempo: Math.round(tempoBpm),
      slowest: SLOWEST_BPM,
      fastest: FASTEST_BPM,
    });
  const { fifths, mode } = imported.key ?? { fifths: 0, mode: 'major' as const };
  const lowest = options.tuning[0]!;
  const rhythm = !isPitched(options.kind);
  const octaves = options.octaves ?? 0;
  const pitches = notes.map((note) => (rhythm ? lowest : note.midi + 12 * octaves));
  const places = placeAll(pitches, options.tuning);
  const written: WrittenNote[] = notes.map((note, i) => {
    const place = places[i];
    const pitch = pitches[i]!;
    if (!place)
      throw new BeyondInstrument(`note-beyond-${options.instrument}`, {
        note: note.spelling ?? spelledByKey(pitch, fifths),
        bar: Math.floor(note.startTicks / barTicks) + 1,
      });
    return {
      startTicks: ticks(note.startTicks),
      durationTicks: ticks(note.durationTicks),
      midi: midi(pitch),
      spelling: (rhythm ? null : inOctave(note.spelling, octaves)) ?? spelledByKey(pitch, fifths),
      ...place,
    };
  });
  const phraseSec = ((bars * barTicks) / 480) * (60 / tempoBpm);
  return {
    version: 1,
    kind: options.kind,
    instrument: options.instrument,
    tuning: options.tuning.map(midi),
    level: null,
    seed: null,
    tempoBpm: bpm(tempoBpm),
    key: { tonic: tonicOf(fifths, mode), scale: mode },
    swing: imported.swing ?? 0.5,
    style: options.style,
    phrase: { metre, bars, notes: written },
    question: null,
    procedure: {
      hearings: HEARINGS,
      practiceSec: sec(Math.min(LIMITS.practiceSec[1], Math.ceil(phraseSec * PRACTICE_PHRASES))),
    },
  };
}
