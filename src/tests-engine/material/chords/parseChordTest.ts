import * as v from 'valibot';
import type { ChordTest } from '../../../music/chords/index.ts';
import { chordTest, firstIssue } from '../../../music/schema/index.ts';
import { askedOf } from './asked.ts';

/**
 * Reads a test of chords from JSON. @throws RangeError with the first thing that is wrong, also where the ear could not be asked for it
 */
export function parseChordTest(json: unknown): ChordTest {
  const parsed = v.safeParse(chordTest, json, { abortEarly: true });
  if (!parsed.success) throw new RangeError(`this is no test of chords: ${firstIssue(parsed.issues)}`);
  const test = parsed.output as unknown as ChordTest;
  for (const chord of test.chords) {
    const asked = askedOf(chord, test.tuning);
    if ('shapes' in asked && asked.shapes.some((shape) => shape.some((note) => note < 28 || note > 81)))
      throw new RangeError(`${chord.symbol}: its notes must lie from E1 to A5 (MIDI 28 to 81) to be heard`);
  }
  return test;
}
