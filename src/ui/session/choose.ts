import type { PracticeTest } from '../../score.ts';
import { LEVELS, TUNINGS, makeTest, standardTuning } from '../../tests-engine/index.ts';
import type { Settings } from '../settings/types.ts';

/** A fresh unsigned 32-bit seed. */
export const freshSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0]!;

/** The tuning of the settings, or the instrument's standard where the two do not fit. */
export const tuningOf = ({ instrument, tuningId }: Pick<Settings, 'instrument' | 'tuningId'>) =>
  TUNINGS.find((tuning) => tuning.id === tuningId && tuning.instrument === instrument) ??
  standardTuning(instrument);

/** Every key that a level may stand in. */
export const keysOf = (level: number): { tonic: string; scale: string }[] =>
  LEVELS[level - 1]!.scales.flatMap(({ scale, tonics }) => tonics.map((tonic) => ({ tonic, scale })));

/** A test as the settings ask for it. A key that the level does not have counts as any key. */
export function testFor(settings: Settings, seed: number): PracticeTest {
  const { kind, level, instrument, key } = settings;
  const has = keysOf(level).some((other) => other.tonic === key?.tonic && other.scale === key.scale);
  return makeTest({
    kind,
    level,
    seed,
    instrument,
    tuning: tuningOf(settings).strings,
    ...(kind === 'melody' && key && has ? { key } : {}),
  });
}
