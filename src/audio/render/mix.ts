import type { Cue, DrumPiece, PitchedVoice } from '../../music/score.ts';
import type { Balance } from '../types.ts';

/**
 * Levels in dB on a common footing (each one-shot's first 400 ms at −23 LUFS, velocity 1). What they must give
 * is checked in tests/audio/mix.test.ts: after a laptop loudspeaker's 280 Hz high-pass a low-string phrase is
 * at most 6 dB under its backing.
 */
const BACKING_DB: Record<PitchedVoice, number> = {
  // The bass carries the harmony's root; on a loudspeaker only its upper partials arrive.
  bass: -3,
  bassGuitar: -3,
  // Chords have three or four notes at once: 5 to 6 dB more than one, and they must not cover the phrase.
  keys: -13,
  rhythmGuitar: -11,
  guitar: -9,
};
/** The phrase and the reference notes are what is listened for. */
const PHRASE_DB = 0;

const DRUM_DB: Record<DrumPiece, number> = {
  // Low: K-weighting hardly hears it, and its peak adds to the bass's and the phrase's on every first beat.
  kick: -5,
  snare: -5,
  rim: -5,
  // Metal lies where K-weighting and small loudspeakers are keenest and would mask a pick's attack.
  hat: -14,
  openHat: -15,
  ride: -14,
  crash: -12,
  tomHigh: -6,
  tomLow: -6,
  shaker: -13,
  clave: -9,
  congaHigh: -7,
  congaLow: -7,
  // A click must be found at once over everything, but is not heard beside a full kit.
  click: -8,
  clickAccent: -5,
};
/** A spoken count is part of the procedure: as loud as the phrase. */
const SPEECH_DB = 0;

export const AS_MIXED: Balance = { backingDb: 0, melodyDb: 0 };
/** Softer than −18 dB a backing is gone, louder than 6 dB it covers a player (see dsp/bleed's figures at +6 dB). */
const BALANCE_DB = { softest: -18, loudest: 6 } as const;

/** @throws RangeError */
export function checkBalance(balance: Balance): Balance {
  for (const [name, db] of Object.entries(balance) as [string, number][])
    if (!(db >= BALANCE_DB.softest && db <= BALANCE_DB.loudest))
      throw new RangeError(
        `${name} must lie between ${BALANCE_DB.softest} and ${BALANCE_DB.loudest} dB, got ${db}`,
      );
  return balance;
}

export const isAsMixed = ({ backingDb, melodyDb }: Balance): boolean => backingDb === 0 && melodyDb === 0;

/** Clicks and words are the procedure's and stay as they are. */
function balanceDb(cue: Cue, { backingDb, melodyDb }: Balance): number {
  if (cue.type === 'speech') return 0;
  if (cue.type === 'drum') return cue.piece.startsWith('click') ? 0 : backingDb;
  return cue.role === 'backing' ? backingDb : melodyDb;
}

/**
 * The level of a cue in dB on the common footing, its velocity included. Velocity counts 20·log10(v): milder
 * than General MIDI's 40·log10(v), so that a soft note of a phrase is not lost behind its backing.
 */
export function cueLevelDb(cue: Cue, balance: Balance = AS_MIXED): number {
  return baseLevelDb(cue) + balanceDb(cue, balance) + 20 * Math.log10(Math.max(cue.velocity, 1e-3));
}

function baseLevelDb(cue: Cue): number {
  if (cue.type === 'drum') return DRUM_DB[cue.piece];
  if (cue.type === 'speech') return SPEECH_DB;
  return cue.role === 'backing' ? BACKING_DB[cue.voice] : PHRASE_DB;
}
