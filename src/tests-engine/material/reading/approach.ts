import { underTheHand } from '../hand/position.ts';
import { LEAP } from '../melody/line.ts';
import type { Random } from '../random/random.ts';
import { spelledScale } from '../../../music/key.ts';
import { spellApproach, spellInScale } from '../theory/spelling.ts';
import type { Key, WrittenNote } from '../../../music/score.ts';
import { midi } from '../../../music/units.ts';

/** Longest note that may be chromatic: it passes, it does not stand. */
const PASSING_TICKS = 480;

/**
 * Turns up to `wanted` notes into chromatic ones, each a semitone from the note it leads to, on the same or the next
 * string, under the same hand. First and last notes of a bar's phrase and notes on the first beat stay.
 * @param fretAt the hand's position at a note; @param fixed notes that stay. @returns the notes and how many were turned.
 */
export function chromatic(
  notes: readonly WrittenNote[],
  key: Key,
  tuning: readonly number[],
  fretAt: (note: WrittenNote) => number,
  fixed: (index: number) => boolean,
  wanted: number,
  random: Random,
): { readonly notes: WrittenNote[]; readonly turned: number } {
  const scale = spelledScale(key);
  const out = [...notes];
  const options: { i: number; note: WrittenNote }[] = [];
  for (let i = 1; i < notes.length - 1; i++) {
    const [before, own, goal] = [notes[i - 1]!, notes[i]!, notes[i + 1]!];
    if (fixed(i) || own.durationTicks > PASSING_TICKS || own.midi === goal.midi) continue;
    if (fretAt(own) !== fretAt(goal)) continue;
    for (const pitch of [goal.midi - 1, goal.midi + 1]) {
      const place = underTheHand(tuning, fretAt(own)).get(pitch);
      if (!place || pitch === before.midi || Math.abs(pitch - before.midi) >= LEAP) continue;
      if (Math.abs(place.string - before.string) > 1 || Math.abs(place.string - goal.string) > 1) continue;
      const spelling =
        spellInScale(scale, pitch) === null ? spellApproach(pitch, goal.midi, goal.spelling) : null;
      if (spelling !== null) options.push({ i, note: { ...own, midi: midi(pitch), spelling, ...place } });
    }
  }
  let turned = 0;
  while (turned < wanted && options.length > 0) {
    const [{ i, note }] = options.splice(random.below(options.length), 1) as [(typeof options)[0]];
    if ([i - 1, i, i + 1].some((j) => out[j] !== notes[j])) continue;
    out[i] = note;
    turned++;
  }
  return { notes: out, turned };
}
