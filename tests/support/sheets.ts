import type { Cue, CueSheet, DrumPiece, PitchedVoice, SheetMark, SpokenWord } from '../../src/music/score.ts';
import { midi, sec } from '../../src/music/units.ts';

/** Cue sheets written by hand, so that sound is tested without the generator. */
export const note = (
  atSec: number,
  pitch: number,
  durationSec: number,
  voice: PitchedVoice = 'guitar',
  role: 'phrase' | 'backing' | 'reference' = 'phrase',
  velocity = 0.8,
): Cue => ({
  type: 'note',
  atSec: sec(atSec),
  midi: midi(pitch),
  durationSec: sec(durationSec),
  voice,
  role,
  velocity,
});
export const drum = (atSec: number, piece: DrumPiece, velocity = 0.8): Cue => ({
  type: 'drum',
  atSec: sec(atSec),
  piece,
  velocity,
});
export const word = (atSec: number, spoken: SpokenWord, velocity = 0.9): Cue => ({
  type: 'speech',
  atSec: sec(atSec),
  word: spoken,
  velocity,
});
export const sheet = (
  durationSec: number,
  cues: readonly Cue[],
  marks: readonly SheetMark[] = [],
): CueSheet => ({
  durationSec: sec(durationSec),
  cues: [...cues].sort((a, b) => a.atSec - b.atSec),
  marks,
});

/** Two bars of four: a rock backing with kick, snare, hats, bass on the beats and a chord on each bar. */
export function backingBars(startSec: number, beatSec: number, root = 33, bars = 2): Cue[] {
  const cues: Cue[] = [];
  for (let beat = 0; beat < bars * 4; beat++) {
    const at = startSec + beat * beatSec;
    cues.push(
      drum(at, beat % 2 === 0 ? 'kick' : 'snare'),
      drum(at, 'hat'),
      drum(at + beatSec / 2, 'hat', 0.6),
    );
    cues.push(note(at, root, beatSec * 0.9, 'bass', 'backing'));
    if (beat % 4 === 0)
      for (const third of [24, 27, 31])
        cues.push(note(at, root + third, beatSec * 3.8, 'keys', 'backing', 0.7));
  }
  return cues;
}
