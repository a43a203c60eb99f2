import { METRES, barTicks } from '../../../music/metre.ts';
import type { Phrase, WrittenNote } from '../../../music/score.ts';
import { midi, ticks } from '../../../music/units.ts';
import { type Fingered, fingering } from './fingering.ts';
import { type ScalePitch, scalePitches } from './pitches.ts';
import type { NoteValues, ScaleEntry } from './types.ts';

/** A scale as it is to be played: the phrase, and the hand's position at each note. */
export interface ScaleTarget {
  readonly phrase: Phrase;
  readonly fingers: readonly Fingered[];
}

const VALUE_TICKS: Readonly<Record<NoteValues, number>> = {
  crotchets: 480,
  quavers: 240,
  triplets: 160,
  semiquavers: 120,
};
/** The longest target: sixteen bars, as every phrase of the app. */
const MOST_BARS = 16;
/** Farthest fret of a lowest note: beyond it an octave has no room. */
const FARTHEST_START = 14;

/** The lowest tonic of an entry on this instrument that can be fingered, with its fingering on the way up. */
function placed(
  entry: ScaleEntry,
  tuning: readonly number[],
): { up: ScalePitch[]; fingers: Fingered[] } | null {
  const string = entry.string;
  if (string !== null && (string < 1 || string > tuning.length)) return null;
  const [low, high] =
    string === null
      ? [tuning[0]!, tuning[0]! + 12]
      : [tuning[tuning.length - string]!, tuning[tuning.length - string]! + FARTHEST_START];
  for (let lowest = low; lowest <= high; lowest++) {
    let up: ScalePitch[];
    try {
      up = scalePitches(entry.tonic, entry.kind, entry.octaves, lowest, false);
    } catch (error) {
      if (error instanceof RangeError && error.message.startsWith('MIDI')) continue;
      throw error;
    }
    const fingers = fingering(
      up.map((note) => note.midi),
      tuning,
      { string, position: entry.position },
    );
    if (fingers) return { up, fingers };
  }
  return null;
}

/**
 * What is to be played for an entry: notes in its values, the last one held to the end of its bar. The way down is
 * fingered as the way up, mirrored, where it has the same notes; else from the top by the same rule.
 *
 * @param tuning sounding MIDI numbers of the open strings, lowest first
 * @throws RangeError where the instrument cannot play it from there, or it is longer than sixteen bars
 */
export function scaleTarget(entry: ScaleEntry, tuning: readonly number[]): ScaleTarget {
  const start = placed(entry, tuning);
  const called = `${entry.tonic} ${entry.kind}`;
  if (!start)
    throw new RangeError(
      `${called} over ${entry.octaves} octaves cannot be played from there on this instrument; choose another string, position or fewer octaves`,
    );
  const { up, fingers } = start;
  const falling = scalePitches(entry.tonic, entry.kind, entry.octaves, up[0]!.midi, true).reverse();
  const mirrored = falling.every((note, i) => note.midi === up[up.length - 1 - i]!.midi);
  const top = fingers.at(-1)!;
  const downFingers = mirrored
    ? [...fingers].reverse()
    : fingering(
        falling.map((note) => note.midi),
        tuning,
        { string: top.string, position: top.hand },
      )!;
  const notes: (ScalePitch & Fingered)[] = [];
  if (entry.direction !== 'down') up.forEach((note, i) => notes.push({ ...note, ...fingers[i]! }));
  if (entry.direction !== 'up')
    falling.forEach((note, i) => {
      if (i > 0 || entry.direction === 'down') notes.push({ ...note, ...downFingers[i]! });
    });
  const value = VALUE_TICKS[entry.values];
  const metre = METRES['4/4'];
  const bar = barTicks(metre);
  const bars = Math.ceil((notes.length * value) / bar);
  if (bars > MOST_BARS)
    throw new RangeError(
      `${called} has ${bars} bars of ${entry.values}, at most ${MOST_BARS} are played; choose shorter notes or fewer octaves`,
    );
  return {
    phrase: {
      metre,
      bars,
      notes: notes.map(({ midi: pitch, spelling, string, fret }, i): WrittenNote => {
        const last = i === notes.length - 1;
        return {
          startTicks: ticks(i * value),
          durationTicks: ticks(last ? bars * bar - i * value : value),
          midi: midi(pitch),
          spelling,
          string,
          fret,
        };
      }),
    },
    fingers: notes.map(({ string, fret, hand }) => ({ string, fret, hand })),
  };
}
