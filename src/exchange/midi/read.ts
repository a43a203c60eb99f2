import { parseMidi, type MidiData, type MidiEvent } from 'midi-file';
import type { PracticeTest } from '../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';
import { MOST } from '../limits.ts';
import { isMidi } from './isMidi.ts';
import { swingOfMarker, unswung } from './swing.ts';
import { buildTest, type ImportOptions } from '../phrase/build.ts';
import type { ImportedNote } from '../phrase/imported.ts';
import { metreOf } from '../phrase/metre.ts';

/** What played notes are moved to: semiquavers or quaver triplets, whichever is nearer. */
const GRIDS = [TICKS_PER_QUARTER / 4, TICKS_PER_QUARTER / 3];
/** Shorter than this a note is written as a semiquaver. */
const SHORTEST = TICKS_PER_QUARTER / 4;

function parsed(bytes: Uint8Array): MidiData {
  if (bytes.length > MOST.midiBytes) throw new ExchangeError('midi-large-phrase');
  if (!isMidi(bytes)) throw new ExchangeError('midi-foreign');
  try {
    return parseMidi(bytes);
  } catch (cause) {
    throw new ExchangeError('midi-damaged', {}, { cause });
  }
}

const snapped = (ticks: number): number =>
  GRIDS.map((grid) => Math.round(ticks / grid) * grid).reduce((a, b) =>
    Math.abs(b - ticks) < Math.abs(a - ticks) ? b : a,
  );

interface Line {
  readonly notes: ImportedNote[];
  readonly events: readonly { readonly at: number; readonly event: MidiEvent }[];
}

/** A track's events with their absolute times, and its notes, in ticks of ours. */
function lineOf(track: readonly MidiEvent[], ticksPerBeat: number, swing: number): Line {
  const sounding = new Map<string, number>();
  const notes: ImportedNote[] = [];
  let at = 0;
  const events = track.map((event) => ({ at: (at += event.deltaTime), event }));
  const scale = TICKS_PER_QUARTER / ticksPerBeat;
  const placed = (at: number): number => snapped(swing === 0.5 ? at : unswung(at, swing));
  for (const { at: now, event } of events) {
    if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
    const key = `${event.channel}:${event.noteNumber}`;
    const from = sounding.get(key);
    if (from !== undefined) {
      const startTicks = placed(from * scale);
      const length = placed(now * scale) - startTicks;
      notes.push({
        startTicks,
        durationTicks: length > 0 ? length : SHORTEST,
        midi: event.noteNumber,
        spelling: null,
      });
      sounding.delete(key);
    }
    if (event.type === 'noteOn' && event.velocity > 0) sounding.set(key, now);
  }
  if (sounding.size > 0) throw new ExchangeError('midi-endless');
  return { notes, events };
}

/** All values of one kind of event; a change in the middle is refused. */
function only<T extends MidiEvent['type']>(
  lines: readonly Line[],
  type: T,
  value: (event: Extract<MidiEvent, { type: T }>) => string,
  name: 'time' | 'tempo' | 'key',
): Extract<MidiEvent, { type: T }> | null {
  const found = lines.flatMap((line) => line.events).filter((e) => e.event.type === type);
  const events = found.map((e) => e.event as Extract<MidiEvent, { type: T }>);
  if (new Set(events.map(value)).size > 1) throw new ExchangeError(`midi-changes-${name}`);
  return events[0] ?? null;
}

/**
 * A teacher's own phrase from a Standard MIDI File: one track, one voice. Times are moved to the nearest
 * semiquaver or quaver triplet.
 *
 * @throws ExchangeError, one sentence, for whatever is no such file or no such phrase.
 */
export function testFromMidi(bytes: Uint8Array, options: ImportOptions): PracticeTest {
  const { header, tracks } = parsed(bytes);
  const { ticksPerBeat } = header;
  if (header.format === 2 || !ticksPerBeat || !(ticksPerBeat > 0)) throw new ExchangeError('midi-no-beats');
  const told = tracks.flat().find((e) => e.type === 'marker' && swingOfMarker(e.text) !== null);
  const swing = told?.type === 'marker' ? swingOfMarker(told.text)! : 0.5;
  const lines = tracks.map((track) => lineOf(track, ticksPerBeat, swing));
  const voices = lines.filter((line) => line.notes.length > 0);
  if (voices.length > 1) throw new ExchangeError('midi-tracks', { tracks: voices.length });
  const time = only(lines, 'timeSignature', (e) => `${e.numerator}/${e.denominator}`, 'time');
  const tempo = only(lines, 'setTempo', (e) => String(e.microsecondsPerBeat), 'tempo');
  const key = only(lines, 'keySignature', (e) => `${e.key}/${e.scale}`, 'key');
  if (key && !(Math.abs(key.key) <= 7)) throw new ExchangeError('midi-key');
  return buildTest(
    {
      metre: metreOf(time?.numerator ?? 4, time?.denominator ?? 4),
      notes: voices[0]?.notes ?? [],
      key: key ? { fifths: key.key, mode: key.scale === 1 ? 'minor' : 'major' } : null,
      swing,
      // Whole microseconds a beat blur the tempo in its fifth digit.
      tempoBpm: tempo ? Math.round(6e9 / tempo.microsecondsPerBeat) / 100 : null,
    },
    options,
  );
}
