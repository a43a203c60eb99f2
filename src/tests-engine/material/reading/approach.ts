import { underTheHand } from '../hand/position.ts';
import { LEAP } from '../melody/line.ts';
import type { Random } from '../random/random.ts';
import { spelledScale } from '../../../music/key.ts';
import { spellApproach, spellInScale } from '../theory/spelling.ts';
import type { Key, WrittenNote } from '../../../music/score.ts';
import { fifthsOf } from '../../../music/signature.ts';
import { midi } from '../../../music/units.ts';

/** Longest note that may be chromatic: it passes, it does not stand. */
const PASSING_TICKS = 480;

/** E sharp, B sharp, C flat and F flat on the line of fifths, C = 0. */
const WHITE_KEYS: Readonly<Record<string, number>> = { 'E#': 11, 'B#': 12, Cb: -7, Fb: -8 };
/** Farther from the signature than these, fifths, such a name hides a natural that every player knows. Common practice, no source. */
const FARTHEST = { sharp: 9, flat: -4 };

/** An approach note's name: a letter from its goal, but E, B, C or F natural where the key has few signs. */
function approachIn(key: Key, pitch: number, goal: WrittenNote): string | null {
  const spelling = spellApproach(pitch, goal.midi, goal.spelling);
  const fifths = spelling === null ? undefined : WHITE_KEYS[spelling.slice(0, 2)];
  if (fifths === undefined) return spelling;
  const away = fifths - fifthsOf(key);
  if (away <= FARTHEST.sharp && away >= FARTHEST.flat) return spelling;
  return `${goal.spelling[0]}${goal.spelling.at(-1)}`;
}

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
      const spelling = spellInScale(scale, pitch) === null ? approachIn(key, pitch, goal) : null;
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
