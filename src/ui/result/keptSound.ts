import { unsqueeze } from '../record/squeeze.ts';
import type { Heard } from '../session/listenBack.ts';
import type { SavedAudio } from '../../store/index.ts';

/** The kept copy of a take for listening; it begins on beat 1. null where none was kept, or none that this opens. */
export function keptSound(saved: SavedAudio | null): Heard | null {
  const recording = saved && unsqueeze(saved.bytes);
  return recording ? { recording, zeroSample: 0 } : null;
}
