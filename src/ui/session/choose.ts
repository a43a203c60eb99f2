import { isPitched } from '../../music/kinds.ts';
import type { Key, PracticeTest } from '../../music/score.ts';
import { LEVELS, makeTest, tuningNamed } from '../../tests-engine/index.ts';
import type { Settings } from '../settings/types.ts';
import { prepare } from './prepare.ts';

/** A fresh unsigned 32-bit seed. */
export const freshSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0]!;

/** The tuning of the settings, or the instrument's standard where the two do not fit. */
export const tuningOf = ({ instrument, tuningId }: Pick<Settings, 'instrument' | 'tuningId'>) =>
  tuningNamed(tuningId, instrument);

/** Every key that a level may stand in. */
export const keysOf = (level: number): { tonic: string; scale: string }[] =>
  LEVELS[level - 1]!.scales.flatMap(({ scale, tonics }) => tonics.map((tonic) => ({ tonic, scale })));

/** The key that the settings ask for; null for a rhythm, and where the level does not have it. */
function askedKey({ kind, level, key }: Settings): Key | null {
  const has = keysOf(level).some((other) => other.tonic === key?.tonic && other.scale === key.scale);
  return isPitched(kind) && has ? key : null;
}

/** Makes the next {@link testFor} of these settings answer at once. */
export const prepareFor = (settings: Settings): Promise<void> =>
  prepare(settings.level, settings.kind, askedKey(settings));

/** A test as the settings ask for it. A key that the level does not have counts as any key. */
export function testFor(settings: Settings, seed: number): PracticeTest {
  const { kind, level, instrument, position } = settings;
  const key = askedKey(settings);
  const tuning = tuningOf(settings).strings;
  return makeTest({
    kind,
    level,
    seed,
    instrument,
    tuning,
    ...(key ? { key } : {}),
    ...(isPitched(kind) && position ? { position } : {}),
  });
}
