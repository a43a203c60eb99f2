import { namedScale, pageOfMusic } from '../../music/task.ts';
import { written } from '../../music/task.ts';
import { ofNotes } from '../marks/anyMark.ts';
import type { NoteVerdict } from '../marks/types.ts';
import { chordsSaid } from './chordsSaid.ts';
import { bits, partsOfNotes } from './features.ts';
import type { AttemptFacts, Practised } from './types.ts';
import { scaleId, waitedFor, writtenCounts } from './written.ts';

/**
 * What a verdict says of a note's pitch and of its time; null = nothing. A missed note counts against
 * both (who does not find the note leaves it out); a wrong note says nothing against its time, an early
 * or late one nothing against its pitch. What was not heard clearly is not held against the student.
 */
function evidence({ kind, unclear }: NoteVerdict): { pitch: boolean | null; time: boolean | null } {
  if (unclear) return { pitch: null, time: null };
  switch (kind) {
    case 'right':
      return { pitch: true, time: true };
    case 'wrong':
      return { pitch: false, time: true };
    case 'early':
    case 'late':
      return { pitch: true, time: false };
    case 'missed':
      return { pitch: false, time: false };
    case 'extra':
      return { pitch: null, time: null };
  }
}

/** One number of a digest, see `Practised`. */
const pack = (set: number, said: boolean | null): number => (set << 2) | (said === null ? 2 : Number(said));
/** Its part set, and what was said of it. */
export const setOf = (packed: number): number => packed >> 2;
export const saidOf = (packed: number): boolean | null => ((packed & 2) === 2 ? null : (packed & 1) === 1);

/** Boils an attempt down. An attempt that was not markable says nothing of any part. */
export function practised(facts: AttemptFacts): Practised {
  const { test, mark } = facts;
  const notes = ofNotes(mark);
  const said = new Map<number, ReturnType<typeof evidence>>();
  for (const verdict of mark.mark === null ? [] : (notes?.verdicts ?? []))
    if (verdict.targetIndex !== null) said.set(verdict.targetIndex, evidence(verdict));
  const noted = written(test);
  const parts = noted ? partsOfNotes(noted) : [];
  return {
    id: facts.id,
    atMs: facts.atMs,
    order: facts.order,
    kind: test.kind,
    level: noted?.level ?? null,
    manner: facts.manner,
    mark: mark.mark,
    outcome: mark.outcome,
    biasMs: notes?.timing.biasMs ?? null,
    unevennessMs: notes?.timing.unevennessMs ?? null,
    pitch: parts.map(({ pitch }, i) =>
      pack(bits(pitch, 'pitch'), pitch.length > 0 ? (said.get(i)?.pitch ?? null) : null),
    ),
    time: parts.map(({ time }, i) => pack(bits(time, 'time'), said.get(i)?.time ?? null)),
    ...('chords' in test && mark.type === 'chords' ? { chords: chordsSaid(test, mark) } : {}),
    ...(facts.question ? { question: facts.question } : {}),
    ...writtenOf(facts),
  };
}

/** What a page or a scale says of its own parts; nothing where there is no mark. */
function writtenOf({ test, mark, take }: AttemptFacts): Pick<Practised, 'written' | 'scale' | 'shows'> {
  const scale = namedScale(test);
  const page = pageOfMusic(test);
  if (!scale && !page) return {};
  const verdicts = mark.mark === null ? [] : (ofNotes(mark)?.verdicts ?? []);
  return {
    written: writtenCounts(test, verdicts, waitedFor(test, take, mark)),
    ...(scale ? { scale: scaleId(scale.named) } : {}),
    ...(page ? { shows: page.shows } : {}),
  };
}
