import { tuningNamed } from '../../tests-engine/index.ts';
import type { Settings } from './types.ts';

/** The tuning of the settings, or the instrument's standard where the two do not fit. */
export const tuningOf = ({ instrument, tuningId }: Pick<Settings, 'instrument' | 'tuningId'>) =>
  tuningNamed(tuningId, instrument);
