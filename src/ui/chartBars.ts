import { chordSymbol, parseChord } from '../music/chords/index.ts';
import type { ImprovisingTask } from '../music/task.ts';
import { barTicks } from '../music/metre.ts';

/** Charts name chords by English letters in every language (common practice, no source). */
export const printed = (name: string): string => name.replaceAll('#', '♯').replaceAll('b', '♭');

/** A chord name as a chart prints it. */
export function symbolText(symbol: string): string {
  const chord = parseChord(symbol);
  if (!chord) return symbol;
  const name = printed(chord.root);
  const rest = chordSymbol(chord).slice(chord.root.length);
  const bass = chord.bass === null ? '' : `/${printed(chord.bass)}`;
  return name + rest.replace(/\/[A-G][#b]?$/, '').replaceAll('b5', '♭5') + bass;
}

/** One chord of a bar. */
export interface BarChord {
  readonly symbol: string;
  readonly text: string;
  /** Where in its bar it begins, 0…1. */
  readonly at: number;
  /** It stood there already: written again, but softly. */
  readonly stays: boolean;
  readonly startTicks: number;
}

/** The chords of every bar of a chart, in order. */
export function chartBars({
  phrase: { metre, bars },
  chart,
}: ImprovisingTask): readonly (readonly BarChord[])[] {
  const bar = barTicks(metre);
  return Array.from({ length: bars }, (_, k) => {
    const [from, to] = [k * bar, (k + 1) * bar];
    return chart
      .filter(({ startTicks, durationTicks }) => startTicks < to && startTicks + durationTicks > from)
      .map(({ symbol, startTicks }) => ({
        symbol,
        text: symbolText(symbol),
        at: Math.max(0, startTicks - from) / bar,
        stays: startTicks < from,
        startTicks,
      }));
  });
}
