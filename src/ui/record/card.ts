import { standardTuning } from '../../tests-engine/index.ts';
import type { Student } from '../../store/index.ts';
import { tuningOf } from '../settings/tuningOf.ts';
import { change, settings } from '../settings/settings.svelte.ts';
import type { Settings } from '../settings/types.ts';
import { ears } from '../state/ears.svelte.ts';

type Played = Pick<Settings, 'instrument' | 'tuningId' | 'level' | 'manner'>;
type Card = Pick<Student, keyof Played>;

/** What a student plays and how: their card, and where it says nothing, what was chosen last. */
export function playedBy(card: Card, last: Played): Played {
  const { instrument } = card;
  const tuningId =
    card.tuningId ?? (instrument === last.instrument ? last.tuningId : standardTuning(instrument).id);
  return { instrument, tuningId, level: card.level ?? last.level, manner: card.manner ?? last.manner };
}

/** The strings of a student's instrument. */
export const stringsOf = (student: Student): readonly number[] =>
  tuningOf(playedBy(student, settings.now)).strings;

/** The settings become those of this student. Another instrument is listened to otherwise: the microphone is shut. */
export function followCard(card: Card): void {
  const { instrument } = settings.now;
  change(playedBy(card, settings.now));
  if (card.instrument !== instrument) ears.shut();
}
