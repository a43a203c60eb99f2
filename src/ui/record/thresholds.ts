import { parseThresholds, type Thresholds } from '../../tests-engine/index.ts';

/** Two marks from whatever was kept or typed; null where they are none (`parseThresholds`). */
export function checkedThresholds(value: unknown): Thresholds | null {
  try {
    return parseThresholds(value);
  } catch {
    return null;
  }
}
