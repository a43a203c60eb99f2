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
