import type { SittingSetup } from '../../music/sitting.ts';
import { parseSetup } from '../../tests-engine/index.ts';
import { KeptList } from '../screens/phrases/kept.svelte.ts';

/** Sittings as they were put together, each under its name: in every backup. */
export const setups = new KeptList<SittingSetup>('sittingSetups', (json) => {
  try {
    return parseSetup(json);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
});

export const saveSetup = (setup: SittingSetup): Promise<boolean> =>
  setups.save({ id: setup.id, name: setup.name, value: setup });
