import { HIGHEST, LOWEST } from './constants.ts';
import { dictionary } from './fitShape.ts';
import type { PreparedStrum } from './fitShape.ts';
import { fitGains } from './gains.ts';

/** A guitar's voicings end at about E5. */
const REACH = 36;
/** Of a class's octaves those count that lie so near to its strongest … */
const WITHIN_DB = 12;
/** … and six strings sound at most. */
const STRINGS = 6;

/**
 * Which notes of the classes asked for the strum most likely holds: a shape to be verified like any other. Each class has its
 * strongest octave in it, whether that sounds or not.
 */
export function likelyVoicing(strum: PreparedStrum, classes: readonly number[], lowest: number): number[] {
  const of = (midi: number): boolean => classes.includes(midi % 12);
  const from = Math.max(LOWEST, lowest);
  const { db } = fitGains(strum.axis, dictionary, of, from);
  const notes: number[] = [];
  const others: { midi: number; level: number }[] = [];
  for (const pitchClass of classes) {
    const octaves: { midi: number; level: number }[] = [];
    for (let midi = from; midi <= Math.min(HIGHEST, from + REACH); midi++)
      if (midi % 12 === pitchClass) octaves.push({ midi, level: db[midi - LOWEST]! });
    octaves.sort((a, b) => b.level - a.level);
    notes.push(octaves[0]!.midi);
    others.push(...octaves.slice(1).filter(({ level }) => level > octaves[0]!.level - WITHIN_DB));
  }
  others.sort((a, b) => b.level - a.level);
  notes.push(...others.slice(0, Math.max(0, STRINGS - notes.length)).map(({ midi }) => midi));
  return notes.sort((a, b) => a - b);
}
