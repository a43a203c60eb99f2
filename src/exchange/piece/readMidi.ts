import { parseMidi, type MidiData } from 'midi-file';
import type { PieceBar, TempoMark } from '../../music/piece.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';
import { MOST } from '../limits.ts';
import type { ImportedNote } from '../phrase/imported.ts';
import { metreOf } from '../phrase/metre.ts';
import { isMidi } from '../midi/isMidi.ts';
import { swingOfMarker } from '../midi/swing.ts';
import { buildPiece, type ImportedPiece, type PieceOptions } from './build.ts';
import { MOST_PIECE_BARS } from './unfold.ts';

/** Programs write notes on the grid; what lies this near it, in ticks, stands on it. */
const GRID = 20;
const NEAR = 6;

const snapped = (ticks: number): number => {
  const on = Math.round(ticks / GRID) * GRID;
  return Math.abs(on - ticks) <= NEAR ? on : Math.round(ticks);
};

function parsed(bytes: Uint8Array): MidiData {
  if (bytes.length > MOST.midiBytes) throw new ExchangeError('midi-large-part');
  if (!isMidi(bytes)) throw new ExchangeError('midi-foreign');
  try {
    return parseMidi(bytes);
  } catch (cause) {
    throw new ExchangeError('midi-damaged', {}, { cause });
  }
}

/** Percussion has its own channel (General MIDI 1, 1991). */
const DRUMS = 9;

/**
 * A piece's part from a Standard MIDI File: one track (or channel) of it, its tempi, and bars by its time signatures.
 * Repeats are written out in such files.
 *
 * @throws ExchangeError, one sentence, for whatever is no such file or no such part
 */
export function pieceFromMidi(bytes: Uint8Array, options: PieceOptions): ImportedPiece {
  const { header, tracks } = parsed(bytes);
  const { ticksPerBeat } = header;
  if (header.format === 2 || !ticksPerBeat || !(ticksPerBeat > 0)) throw new ExchangeError('midi-no-beats');
  const scale = TICKS_PER_QUARTER / ticksPerBeat;
  const lines = new Map<string, { name: string; notes: ImportedNote[] }>();
  const tempi: TempoMark[] = [];
  const times: { at: number; beats: number; unit: number }[] = [];
  let title: string | null = null;
  let key: { fifths: number; minor: boolean } | null = null;
  let swing = 0.5;
  let end = 0;
  tracks.forEach((track, k) => {
    let at = 0;
    let name = '';
    const sounding = new Map<string, number>();
    for (const event of track) {
      at += event.deltaTime;
      const now = at * scale;
      if (event.type === 'trackName') name = event.text.trim();
      if (event.type === 'trackName' && k === 0) title = event.text.trim() || null;
      if (event.type === 'marker') swing = swingOfMarker(event.text) ?? swing;
      if (event.type === 'setTempo' && event.microsecondsPerBeat > 0) {
        // Whole microseconds a beat blur the tempo in its fifth digit.
        tempi.push({ atTicks: Math.round(now), bpm: Math.round(6e9 / event.microsecondsPerBeat) / 100 });
      }
      if (event.type === 'timeSignature')
        times.push({ at: now, beats: event.numerator, unit: event.denominator });
      if (event.type === 'keySignature' && key === null && Math.abs(event.key) <= 7)
        key = { fifths: event.key, minor: event.scale === 1 };
      if (event.type !== 'noteOn' && event.type !== 'noteOff') continue;
      if (event.channel === DRUMS) continue;
      const id = `${event.channel}:${event.noteNumber}`;
      const from = sounding.get(id);
      if (from !== undefined) {
        const startTicks = snapped(from);
        const line = `${k}:${event.channel}`;
        const into = lines.get(line) ?? { name: name || `Track ${k + 1}`, notes: [] };
        into.notes.push({
          startTicks,
          durationTicks: Math.max(1, snapped(now) - startTicks),
          midi: event.noteNumber,
          spelling: null,
        });
        lines.set(line, into);
        sounding.delete(id);
        end = Math.max(end, now);
      }
      if (event.type === 'noteOn' && event.velocity > 0) sounding.set(id, now);
    }
  });
  const voices = [...lines.values()];
  const chosen = voices[options.part ?? 0];
  if (!chosen) throw new ExchangeError('piece-no-note');
  times.sort((a, b) => a.at - b.at);
  tempi.sort((a, b) => a.atTicks - b.atTicks);
  const bars = barsOf(times, Math.max(end, 1));
  if (bars.length > MOST_PIECE_BARS) throw new ExchangeError('piece-long', { most: MOST_PIECE_BARS });
  const first = times[0] ?? { beats: 4, unit: 4 };
  const metre = metreOf(...(metreOfBars(times) ?? [first.beats, first.unit]));
  const map = tempi
    .filter(({ atTicks }, k) => tempi[k + 1]?.atTicks !== atTicks)
    .filter(({ bpm }, k, all) => all[k - 1]?.bpm !== bpm);
  if (map.length > 0 && map[0]!.atTicks > 0) map.unshift({ atTicks: 0, bpm: 120 });
  return buildPiece(
    {
      title: title as string | null,
      metre,
      fifths: (key as { fifths: number } | null)?.fifths ?? null,
      minor: (key as { minor: boolean } | null)?.minor ?? false,
      bars,
      notes: chosen.notes,
      tempi: map,
      swing,
      parts: voices.map(({ name }) => name),
      voices: 1,
    },
    options,
  );
}

/** The metre of the piece: where the first signature lasts but one bar of a pick-up, the second. */
function metreOfBars(times: readonly { at: number; beats: number; unit: number }[]): [number, number] | null {
  const [a, b] = times;
  if (!a) return null;
  if (b && b.at > 0 && isPickUp(a, b)) return [b.beats, b.unit];
  return [a.beats, a.unit];
}

const lengthOf = ({ beats, unit }: { beats: number; unit: number }): number =>
  (beats * 4 * TICKS_PER_QUARTER) / unit;

/** A first signature that holds for one bar shorter than the next one's. */
const isPickUp = (
  a: { at: number; beats: number; unit: number },
  b: { at: number; beats: number; unit: number },
): boolean => Math.round(b.at - a.at) <= Math.round(lengthOf(a)) && lengthOf(a) < lengthOf(b);

/** Bars from signature to signature until the last note has ended. */
function barsOf(times: readonly { at: number; beats: number; unit: number }[], end: number): PieceBar[] {
  const signs = times.length > 0 && times[0]!.at === 0 ? times : [{ at: 0, beats: 4, unit: 4 }, ...times];
  const bars: PieceBar[] = [];
  const pickUp = signs.length > 1 && isPickUp(signs[0]!, signs[1]!);
  let at = 0;
  for (let k = 0; at < end && bars.length <= MOST_PIECE_BARS;) {
    while (k + 1 < signs.length && signs[k + 1]!.at <= at + 1) k++;
    const full = Math.max(TICKS_PER_QUARTER / 4, lengthOf(signs[k]!));
    const next = signs[k + 1]?.at ?? Infinity;
    const length = Math.min(full, Math.max(1, next - at));
    bars.push({
      startTicks: Math.round(at),
      durationTicks: Math.round(at + length) - Math.round(at),
      printed: bars.length + (pickUp ? 0 : 1),
    });
    at += length;
  }
  return bars;
}
