import { isPitched } from '../../music/kinds.ts';
import type { PracticeTest } from '../../music/score.ts';
import { makeTest } from '../../tests-engine/index.ts';
import { tuningOf } from '../settings/tuningOf.ts';
import type { Settings } from '../settings/types.ts';
import { askedKey } from './keys.ts';
import { prepare } from './prepare.ts';

/** A fresh unsigned 32-bit seed. */
export const freshSeed = (): number => crypto.getRandomValues(new Uint32Array(1))[0]!;

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
