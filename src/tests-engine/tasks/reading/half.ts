import { barTicks } from '../../../music/metre.ts';
import type { HandPosition, PageSign, ReadingTask } from '../../../music/task.ts';
import type { Half } from '../../procedure/index.ts';
import { halfPhrase } from '../heard/half.ts';

/** Half a page, cut at a bar line, with the signs and the hand's positions of its own bars. */
export function halfPage(task: ReadingTask, half: Half): ReadingTask {
  const part = { ...task, phrase: halfPhrase(task.phrase, half) };
  const cutBar = half === 'first' ? 0 : task.phrase.bars - part.phrase.bars;
  const fromNote = half === 'first' ? 0 : task.phrase.notes.length - part.phrase.notes.length;
  const bar = barTicks(task.phrase.metre);
  const [from, to] = [cutBar * bar, (cutBar + part.phrase.bars) * bar];
  const notes = part.phrase.notes.length;
  const signs = task.signs.flatMap((sign): PageSign[] => {
    switch (sign.kind) {
      case 'dynamic':
        return sign.atTicks >= from && sign.atTicks < to ? [{ ...sign, atTicks: sign.atTicks - from }] : [];
      case 'louder':
      case 'softer': {
        const [first, last] = [Math.max(from, sign.fromTicks) - from, Math.min(to, sign.toTicks) - from];
        return first < last ? [{ ...sign, fromTicks: first, toTicks: last }] : [];
      }
      default: {
        const note = sign.note - fromNote;
        return note >= 0 && note < notes ? [{ ...sign, note }] : [];
      }
    }
  });
  return { ...part, signs, positions: positionsIn(task.positions, cutBar, part.phrase.bars) };
}

/** The positions of `bars` bars from `fromBar` on, where the hand already stood at the first of them included. */
function positionsIn(positions: readonly HandPosition[], fromBar: number, bars: number): HandPosition[] {
  const standing = positions.findLast(({ bar }) => bar <= fromBar);
  const later = positions.filter(({ bar }) => bar > fromBar && bar < fromBar + bars);
  return [...(standing ? [standing] : []), ...later].map(({ bar, fret }) => ({
    bar: Math.max(0, bar - fromBar),
    fret,
  }));
}
