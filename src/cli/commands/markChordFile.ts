import { hearChordTake } from '../../dsp/index.ts';
import type { ChordTest, HeardChords } from '../../music/chords/index.ts';
import { sec } from '../../music/units.ts';
import {
  askedOfTest,
  expectedOfTest,
  markChordTake,
  type ChordMark,
  type ChordsAsked,
} from '../../tests-engine/index.ts';
import { UsageError } from '../io.ts';
import { readRecording } from '../listen.ts';
import type { Options } from '../options.ts';

/** Marks a recording of chords: `--start` is beat 1 of a progression in it; chords named one by one need none. */
export const markChordFile = async (options: Options, test: ChordTest): Promise<ChordMark> =>
  markChordTake(
    test,
    await hearChordFile(options, test, {
      asked: askedOfTest(test),
      expectedSec: expectedOfTest(test),
      driven: test.driven ? true : null,
    }),
  );

/** A recording heard for the chords that were asked, times from beat 1 as the player heard it. */
export async function hearChordFile(
  options: Options,
  { tempoBpm, tuning }: Pick<ChordTest, 'tempoBpm' | 'tuning'>,
  { asked, expectedSec, driven }: ChordsAsked,
): Promise<HeardChords> {
  const startSec = options.number('start', -3600, 3600, 0);
  const path = options.text('backing');
  if (path === null && options.text('from') !== null)
    throw new UsageError(
      '--from goes with --backing: it says from which second on notes are wanted; give --backing too, or leave it out',
    );
  const fromSec = options.number('from', 0, 3600, Math.max(0, startSec - 60 / tempoBpm));
  const { samples, sampleRate, over } = await readRecording(
    options.required('take'),
    path === null ? null : { path, fromSec },
  );
  const heard = hearChordTake(samples, sampleRate, {
    asked: asked.map(({ chord, fromSec: from, toSec: to }) => ({
      chord,
      fromSec: startSec + from,
      toSec: startSec + to,
    })),
    expectedSec: expectedSec.map((at) => startSec + at),
    fromSec: Math.min(fromSec, samples.length / sampleRate),
    reference: over?.reference ?? null,
    lowest: Math.min(...tuning),
    ...(driven === null ? {} : { driven }),
  });
  // Beat 1 as the player heard it: later than it was sent out by what the backing itself came later.
  return fromBeatOne(heard, startSec + (heard.heard.delayMs ?? 0) / 1000);
}

const fromBeatOne = ({ strums, heard }: HeardChords, beatOneSec: number): HeardChords => ({
  heard,
  strums: strums.map((strum) => ({
    ...strum,
    firstSec: sec(strum.firstSec - beatOneSec),
    fullSec: sec(strum.fullSec - beatOneSec),
    untilSec: sec(strum.untilSec - beatOneSec),
  })),
});
