import type { Key } from '../../music/score.ts';
import { isPitched } from '../../music/kinds.ts';
import { LEVELS } from '../../tests-engine/index.ts';
import type { Settings } from '../settings/types.ts';

/** Every key that a level may stand in. */
export const keysOf = (level: number): { tonic: string; scale: string }[] =>
  LEVELS[level - 1]!.scales.flatMap(({ scale, tonics }) => tonics.map((tonic) => ({ tonic, scale })));

/** The key that the settings ask for; null for a rhythm, and where the level does not have it. */
export function askedKey({ kind, level, key }: Settings): Key | null {
  const has = keysOf(level).some((other) => other.tonic === key?.tonic && other.scale === key.scale);
  return isPitched(kind) && has ? key : null;
}
