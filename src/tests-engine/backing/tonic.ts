import type { PracticeTest } from '../../music/score.ts';
import { keyClasses } from './scale.ts';
import { atOrAbove } from './voicing.ts';

/** C3: the tonic chord's root lies C3–B3, in the middle of what any loudspeaker can sound. */
const TONIC_FLOOR = 48;

/** The key's tonic triad in root position, MIDI numbers from C3 up; its bare fifth where the scale has no third. */
export function tonicTriad(test: Pick<PracticeTest, 'key'>): readonly number[] {
  const { tonic, steps, mode } = keyClasses(test.key);
  const root = atOrAbove(tonic, TONIC_FLOOR);
  const third = steps.has(3) || steps.has(4) ? [root + (mode === 'minor' ? 3 : 4)] : [];
  return [root, ...third, root + 7, root + 12];
}
