/**
 * The input level as a line. A plucked string falls by 20 dB within a second, so peaks between −30 and
 * −6 dBFS leave its decay well above a quiet room (about −60 dBFS) and 6 dB before distortion.
 */
export const LEVEL_RANGE = { lowestDb: -60, goodFromDb: -30, goodToDb: -6 } as const;

export type LevelWord = 'none' | 'quiet' | 'good' | 'hot';

/** Under this nothing was played: a quiet room through a laptop's microphone stays below. */
const NOTHING_DB = -48;

export function levelWord(peakDb: number | null): LevelWord {
  if (peakDb === null || peakDb < NOTHING_DB) return 'none';
  if (peakDb < LEVEL_RANGE.goodFromDb) return 'quiet';
  return peakDb <= LEVEL_RANGE.goodToDb ? 'good' : 'hot';
}

/** Where a level stands on the line, 0…1. */
export function levelShare(peakDb: number | null): number {
  const { lowestDb } = LEVEL_RANGE;
  return peakDb === null ? 0 : Math.min(1, Math.max(0, (peakDb - lowestDb) / -lowestDb));
}

/** Fewer levels than this (they come some ten a second) say nothing of a room. */
const FEWEST_LEVELS = 10;

/** The room's own noise, dBFS RMS: the tenth part of the levels that lies lowest. null: not heard long enough. */
export function noiseFloorDb(rmsDb: readonly number[]): number | null {
  if (rmsDb.length < FEWEST_LEVELS) return null;
  const sorted = [...rmsDb].sort((a, b) => a - b);
  return Math.max(-120, sorted[Math.floor(sorted.length / 10)]!);
}

/**
 * A note at the lower end of the good zone peaks at −30 dBFS and decays by 20 dB within a second: a room at −60 lies
 * under it to the end; one above −45 covers its second half.
 */
export function noiseWord(floorDb: number): 'quiet' | 'some' | 'loud' {
  if (floorDb <= LEVEL_RANGE.lowestDb + 5) return 'quiet';
  return floorDb <= LEVEL_RANGE.goodFromDb - 15 ? 'some' : 'loud';
}
