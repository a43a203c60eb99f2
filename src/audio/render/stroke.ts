import type { Cue } from '../../music/score.ts';
import type { Bank, BankSound } from './bank.ts';
import type { Balance } from '../types.ts';
import { cueLevelDb } from './mix.ts';
import { dbToAmplitude } from '../../music/units.ts';

/** One buffer to be started: everything Tone has to be told about a cue. */
export interface Stroke {
  readonly buffer: AudioBuffer;
  /** When the buffer starts, so that its attack (or a word's vowel) falls on the cue; never negative. */
  readonly startSec: number;
  /** Where in the buffer it starts (only when the cue comes too early for the sound's lead). */
  readonly offsetSec: number;
  readonly playbackRate: number;
  /** Linear. */
  readonly gain: number;
  /** When the sound is damped, or null to ring out. */
  readonly dampSec: number | null;
}

/** A string is stopped within this time: short enough for semiquavers, long enough not to click. */
export const DAMP_SEC = 0.03;
/** A recording is not stretched by more than an octave: it no longer sounds like the instrument. */
const MAX_SHIFT_SEMITONES = 12;

/** What to start for a cue. `nextHatSec`: when the next stroke on the hi-hat closes an open one. */
export function strokeOf(cue: Cue, bank: Bank, nextHatSec: number | null, balance?: Balance): Stroke {
  const sound = soundOf(cue, bank);
  const playbackRate =
    cue.type === 'note' ? 2 ** ((cue.midi - sound.entry.midi!) / 12 - sound.entry.cents / 1200) : 1;
  const start = cue.atSec - sound.attackSec / playbackRate;
  return {
    buffer: sound.buffer,
    startSec: Math.max(0, start),
    offsetSec: Math.max(0, -start) * playbackRate,
    playbackRate,
    gain: dbToAmplitude(cueLevelDb(cue, balance) + sound.entry.gainDb),
    dampSec: cue.type === 'note' ? cue.atSec + cue.durationSec : nextHatSec,
  };
}

function soundOf(cue: Cue, bank: Bank): BankSound {
  if (cue.type !== 'note') {
    const id = cue.type === 'drum' ? cue.piece : cue.word;
    const sound = bank.get(id);
    if (!sound) throw new RangeError(`no sound for ${cue.type} "${id}"`);
    return sound;
  }
  let best: BankSound | null = null;
  for (const sound of bank.values()) {
    if (!sound.entry.id.startsWith(`${cue.voice}.`)) continue;
    if (!best || Math.abs(sound.entry.midi! - cue.midi) < Math.abs(best.entry.midi! - cue.midi)) best = sound;
  }
  if (!best) throw new RangeError(`no sound for voice "${cue.voice}"`);
  if (!(Math.abs(best.entry.midi! - cue.midi) <= MAX_SHIFT_SEMITONES))
    throw new RangeError(
      `MIDI ${cue.midi} is out of the ${cue.voice}'s range: at most ${MAX_SHIFT_SEMITONES} semitones from ${best.entry.midi}`,
    );
  return best;
}
