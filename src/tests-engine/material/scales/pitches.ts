import { Interval, Note } from 'tonal';
import type { ScaleKind } from './types.ts';

/** Steps of one octave above the tonic as interval names, the tonic first. */
const RISING: Readonly<Record<ScaleKind, string>> = {
  major: '1P 2M 3M 4P 5P 6M 7M',
  'natural minor': '1P 2M 3m 4P 5P 6m 7m',
  'harmonic minor': '1P 2M 3m 4P 5P 6m 7M',
  'melodic minor': '1P 2M 3m 4P 5P 6M 7M',
  'major pentatonic': '1P 2M 3M 5P 6M',
  'minor pentatonic': '1P 3m 4P 5P 7m',
  blues: '1P 3m 4P 5d 5P 7m',
  dorian: '1P 2M 3m 4P 5P 6M 7m',
  mixolydian: '1P 2M 3M 4P 5P 6M 7m',
  chromatic: '1P 1A 2M 2A 3M 4P 4A 5P 5A 6M 6A 7M',
  'major arpeggio': '1P 3M 5P',
  'minor arpeggio': '1P 3m 5P',
  'dominant seventh arpeggio': '1P 3M 5P 7m',
  'major seventh arpeggio': '1P 3M 5P 7M',
  'minor seventh arpeggio': '1P 3m 5P 7m',
  'diminished seventh arpeggio': '1P 3m 5d 7d',
};
/** Where the way down has other notes: the melodic minor is the natural one, chromatic notes are flats. */
const FALLING: Partial<Record<ScaleKind, string>> = {
  'melodic minor': RISING['natural minor'],
  chromatic: '1P 2m 2M 3m 3M 4P 5d 5P 6m 6M 7m 7M',
};

/** A note of a scale, sounding. */
export interface ScalePitch {
  readonly midi: number;
  readonly spelling: string;
}

/**
 * Notes of a scale over whole octaves, rising from the tonic to the tonic.
 * @param lowest MIDI number of the lowest tonic; @param falling the notes of the way down (still listed rising)
 * @throws RangeError for a tonic that is none, or a spelling with more than two signs
 */
export function scalePitches(
  tonic: string,
  kind: ScaleKind,
  octaves: number,
  lowest: number,
  falling: boolean,
): ScalePitch[] {
  const chroma = Note.chroma(tonic);
  if (!/^[A-G](#|b)?$/.test(tonic) || chroma === undefined)
    throw new RangeError(`a tonic is a letter with # or b such as "F#" or "Eb", got ${tonic}`);
  const steps = ((falling ? FALLING[kind] : undefined) ?? RISING[kind]).split(' ');
  const octaveOf = (midi: number): number => {
    for (let octave = -1; octave < 9; octave++) if (Note.midi(`${tonic}${octave}`) === midi) return octave;
    throw new RangeError(`MIDI number ${midi} is no ${tonic}`);
  };
  const base = octaveOf(lowest);
  const notes: ScalePitch[] = [];
  for (let octave = 0; octave < octaves; octave++)
    for (const step of steps) notes.push(pitch(`${tonic}${base + octave}`, step));
  notes.push(pitch(`${tonic}${base + octaves}`, '1P'));
  return notes;
}

function pitch(from: string, step: string): ScalePitch {
  const name = Note.transpose(from, Interval.get(step).name);
  const midi = Note.midi(name);
  if (midi === null) throw new RangeError(`${step} above ${from} cannot be spelled`);
  // Double signs are written in remote keys (F×, B♭♭); more cannot be.
  const plain = /#{3}|b{3}/.test(name) ? Note.simplify(name) : name;
  return { midi, spelling: plain };
}
