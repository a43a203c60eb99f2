import { writeMidi, type MidiEvent } from 'midi-file';
import { fifthsOf } from '../../notation/index.ts';
import type { Instrument, Phrase } from '../../music/score.ts';
import type { NotesTask } from '../../music/task.ts';
import { swungTicks } from '../../music/time.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { barTicksOf } from '../phrase/metre.ts';
import { modeOf } from '../phrase/modes.ts';
import { swingMarker } from './swing.ts';
import { partsOf } from '../phrase/parts.ts';
import { workTitle } from '../phrase/workTitle.ts';

/** General MIDI programs, from 0: steel-string guitar, fingered bass. */
const PROGRAM = { guitar: 25, bass: 33 } as const;
const VELOCITY = 96;
/** A time signature's metronome ticks once a crotchet: 24 MIDI clocks; 8 demisemiquavers a crotchet. */
const CLOCKS = 24;
const THIRTY_SECONDS = 8;

/** The library writes a text sign by sign as bytes: ours are UTF-8, as present programs read them. */
const bytesOf = (text: string): string => String.fromCharCode(...new TextEncoder().encode(text));

/** The notes of a phrase as they sound, to the end of its last bar. */
function track(
  name: string,
  phrase: Phrase,
  instrument: Instrument,
  channel: number,
  swing: number,
  key: MidiEvent,
): MidiEvent[] {
  const events = phrase.notes.flatMap((note) => [
    { at: Math.round(swungTicks(note.startTicks, swing)), on: true, note: note.midi },
    {
      at: Math.round(swungTicks(note.startTicks + note.durationTicks, swing)),
      on: false,
      note: note.midi,
    },
  ]);
  // A note ends before the next begins on the same tick.
  events.sort((a, b) => a.at - b.at || Number(a.on) - Number(b.on));
  let now = 0;
  const sounding = events.map(({ at, on, note }): MidiEvent => {
    const deltaTime = at - now;
    now = at;
    return on
      ? { type: 'noteOn', deltaTime, channel, noteNumber: note, velocity: VELOCITY }
      : { type: 'noteOff', deltaTime, channel, noteNumber: note, velocity: 0 };
  });
  return [
    { type: 'trackName', meta: true, deltaTime: 0, text: name },
    key,
    { type: 'programChange', deltaTime: 0, channel, programNumber: PROGRAM[instrument] },
    ...sounding,
    { type: 'endOfTrack', meta: true, deltaTime: phrase.bars * barTicksOf(phrase.metre) - now },
  ];
}

/**
 * A test as a Standard MIDI File, format 1: tempo, time and key signature, then a track for the phrase, or
 * for each of a rhythm test's two rhythms. Pitches are as they sound, and so are times: a shuffle swings.
 * @param title the name of the first track, which in this format is the name of the piece; its key where none is given
 */
export function testToMidi(test: NotesTask, title?: string): Uint8Array<ArrayBuffer> {
  const { metre } = test.phrase;
  // Once for the piece and again with the notes: some programs look for it in the track of the notes alone.
  const signature: MidiEvent = {
    type: 'keySignature',
    meta: true,
    deltaTime: 0,
    key: fifthsOf(test.key),
    // The format knows two modes only.
    scale: ['minor', 'dorian', 'phrygian', 'locrian'].includes(modeOf(test.key.scale)) ? 1 : 0,
  };
  const head: MidiEvent[] = [
    {
      type: 'trackName',
      meta: true,
      deltaTime: 0,
      text: bytesOf(title || workTitle(test)),
    },
    { type: 'setTempo', meta: true, deltaTime: 0, microsecondsPerBeat: Math.round(60e6 / test.tempoBpm) },
    {
      type: 'timeSignature',
      meta: true,
      deltaTime: 0,
      numerator: metre.beats,
      denominator: metre.beatUnit,
      metronome: CLOCKS,
      thirtyseconds: THIRTY_SECONDS,
    },
    signature,
    // For whoever reads it again: a swung quaver and a triplet's third fall on one tick.
    ...(test.swing === 0.5
      ? []
      : [{ type: 'marker' as const, meta: true as const, deltaTime: 0, text: swingMarker(test.swing) }]),
    { type: 'endOfTrack', meta: true, deltaTime: 0 },
  ];
  const parts = partsOf(test);
  const tracks = [
    head,
    ...parts.map(({ name, phrase }, i) => track(name, phrase, test.instrument, i, test.swing, signature)),
  ];
  return Uint8Array.from(
    writeMidi({ header: { format: 1, numTracks: tracks.length, ticksPerBeat: TICKS_PER_QUARTER }, tracks }),
  );
}
