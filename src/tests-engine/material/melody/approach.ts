import type { LevelParameters } from '../levels/types.ts';
import type { Random } from '../random/random.ts';
import type { SpelledScale } from '../theory/scale.ts';
import { spellApproach, spellInScale } from '../theory/spelling.ts';
import type { Placed } from '../hand/placing.ts';
import { LEAP, LONGEST_RUN, longestRun } from './line.ts';
import type { Line } from './lines.ts';

/** A note as it is put into the phrase: semitones from the tonic and how it is spelled. */
export interface Pitch {
  readonly offset: number;
  readonly spelling: string;
}

/** E, F, B and C are written as themselves. */
function readable(spelling: string, sounding: number): string {
  return /^(Fb|Cb|E#|B#)/.test(spelling)
    ? `${NATURAL_NAMES[sounding % 12]}${Math.floor(sounding / 12) - 1}`
    : spelling;
}
const NATURAL_NAMES: Readonly<Record<number, string>> = { 0: 'C', 4: 'E', 5: 'F', 11: 'B' };

/** Longest note that may be chromatic: it passes, it does not stand. */
const PASSING_TICKS = 480;

/**
 * Spells a line, and turns up to `level.approachNotes` of its weak, short notes into chromatic ones, each a
 * semitone from the note it leads to. Untouched: first and last note, climax, stressed notes and the figures
 * that answer each other; no leap arises, and the new note lies under the same hand.
 * @param keptOffsets degrees (semitones above the tonic) that stay too: what makes the scale that scale. With them
 * no note is spelled F flat, C flat, E sharp or B sharp that the scale does not have itself.
 */
export function spellLine(
  level: LevelParameters,
  line: Line,
  { hand }: Placed,
  scale: SpelledScale,
  random: Random,
  keptOffsets: readonly number[] | null = null,
): Pitch[] {
  const spelled = (offset: number): string => spellInScale(scale, hand.tonicMidi + offset)!;
  const pitches: Pitch[] = line.offsets.map((offset) => ({ offset, spelling: spelled(offset) }));
  if (level.approachNotes === 0) return pitches;
  const { offsets, plan } = line;
  const climax = Math.max(...offsets);
  const kept = new Set([0, offsets.length - 1]);
  for (const start of [0, ...plan.answers]) for (let k = 0; k < plan.opening; k++) kept.add(start + k);
  const options: { i: number; pitch: Pitch }[] = [];
  for (let i = 1; i < offsets.length - 1; i++) {
    if (keptOffsets?.includes(((offsets[i]! % 12) + 12) % 12)) continue;
    if (kept.has(i) || plan.strong[i] || plan.durations[i]! > PASSING_TICKS || offsets[i] === climax)
      continue;
    const goal = offsets[i + 1]!;
    const before = offsets[i - 1]!;
    // What resolves a leap stays as it is.
    if (i > 1 && Math.abs(before - offsets[i - 2]!) >= LEAP) continue;
    for (const offset of [goal - 1, goal + 1]) {
      const sounding = hand.tonicMidi + offset;
      if (offset >= climax || offset === before || Math.abs(offset - before) >= LEAP) continue;
      if (!hand.places.has(sounding) || spellInScale(scale, sounding) !== null) continue;
      const asStep = spellApproach(sounding, hand.tonicMidi + goal, spelled(goal));
      const spelling = keptOffsets && asStep ? readable(asStep, sounding) : asStep;
      if (spelling !== null) options.push({ i, pitch: { offset, spelling } });
    }
  }
  let left = level.approachNotes;
  while (left > 0 && options.length > 0) {
    const [{ i, pitch }] = options.splice(random.below(options.length), 1) as [(typeof options)[0]];
    // Two in a row would lead nowhere, and one place takes one note.
    if ([i - 1, i, i + 1].some((j) => pitches[j]!.offset !== offsets[j])) continue;
    const plain = pitches[i]!;
    pitches[i] = pitch;
    if (longestRun(pitches.map(({ offset }) => offset)) > LONGEST_RUN) pitches[i] = plain;
    else left--;
  }
  return pitches;
}
