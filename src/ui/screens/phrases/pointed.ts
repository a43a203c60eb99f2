import { spelledScale } from '../../../music/key.ts';
import { writtenOctaveUp } from '../../../notation/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { ticksAtX, type EngravedSystem } from '../../engraving/layout.ts';

/** Semitones of a letter over C, and its place among the seven. */
export const NATURALS = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 } as const;
const LETTERS = 'cdefgab';
export type Letter = keyof typeof NATURALS;

/** What a letter stands for in the key, semitones over C: F is F sharp in G. */
export function pitchClassIn(letter: Letter, key: PracticeTest['key']): number {
  const inKey = spelledScale(key).names.find((name) => name[0]!.toLowerCase() === letter) ?? '';
  const raised = (inKey.match(/#/g)?.length ?? 0) - (inKey.match(/b/g)?.length ?? 0);
  return (NATURALS[letter] + raised + 12) % 12;
}

/** Letters from C0 on to the bottom line as written: E4 in the treble clef, G2 in the bass clef. */
const BOTTOM_LINE = { guitar: 4 * 7 + LETTERS.indexOf('e'), bass: 2 * 7 + LETTERS.indexOf('g') } as const;

/**
 * The sounding pitch, MIDI, that is written so many places over the bottom line (a place is a line or a space), with
 * the key's own sign.
 */
export function pitchAtPlace(places: number, { key, instrument, tuning }: PracticeTest): number {
  const letters = BOTTOM_LINE[instrument] + places - 7 * writtenOctaveUp(instrument, tuning.length);
  const letter = LETTERS[((letters % 7) + 7) % 7] as Letter;
  const raised = ((pitchClassIn(letter, key) - NATURALS[letter] + 18) % 12) - 6;
  return 12 * (Math.floor(letters / 7) + 1) + NATURALS[letter] + raised;
}

/** What is pointed at on a line of music: an instant, and a pitch, which on the TAB is an open string's. */
export interface Pointed {
  readonly atTicks: number;
  readonly midi: number;
  readonly onTab: boolean;
}

/**
 * @param x CSS pixels from the line's left edge. @param y from its top
 * @param step ticks between the instants that can be pointed at
 * @param mirrored whether the lowest string is on top of the TAB
 */
export function pointedAt(
  system: EngravedSystem,
  { x, y }: { readonly x: number; readonly y: number },
  test: PracticeTest,
  step: number,
  mirrored: boolean,
): Pointed {
  const { staff, tab } = system;
  const { tuning } = test;
  const atTicks = ticksAtX(system, x, step);
  if (tab && y > tab.topY - tab.gap) {
    const row = Math.max(0, Math.min(tuning.length - 1, Math.round((y - tab.topY) / tab.gap)));
    return { atTicks, midi: tuning[mirrored ? row : tuning.length - 1 - row]!, onTab: true };
  }
  const places = Math.round((staff.topY + 4 * staff.gap - y) / (staff.gap / 2));
  return { atTicks, midi: pitchAtPlace(places, test), onTab: false };
}
