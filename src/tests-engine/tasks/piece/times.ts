import { barAt, swungSec, tempoMap, type PieceBar, type TempoMap } from '../../../music/piece.ts';
import type { PieceTask } from '../../../music/task.ts';
import type { PieceTarget } from '../../marks/index.ts';

/** Where the first whole bar begins: after a pick-up. */
export const firstWholeTicks = (bars: readonly PieceBar[]): number =>
  bars[0]?.printed === 0 ? bars[0].durationTicks : 0;

/** The bars of a take with their times, s from the beginning of the first of them. */
export interface PieceTimes {
  readonly map: TempoMap;
  readonly from: number;
  readonly to: number;
  readonly fromTicks: number;
  readonly toTicks: number;
  /** From tick 0 of the piece to the take's first bar. */
  readonly startSec: number;
  readonly lengthSec: number;
  /** One more than bars are played. */
  readonly barSecs: readonly number[];
}

export function timesOf({ bars, passage, tempi }: PieceTask): PieceTimes {
  const map = tempoMap(tempi);
  const { from, to } = passage ?? { from: 0, to: bars.length };
  const fromTicks = bars[from]!.startTicks;
  const last = bars[to - 1]!;
  const toTicks = last.startTicks + last.durationTicks;
  const startSec = map.secAt(fromTicks);
  const barSecs = [...bars.slice(from, to).map((bar) => bar.startTicks), toTicks].map(
    (ticks) => map.secAt(ticks) - startSec,
  );
  return { map, from, to, fromTicks, toTicks, startSec, lengthSec: barSecs.at(-1)!, barSecs };
}

/** The notes of a take as they are due; bars count from the first that is played. */
export function dueNotes(task: PieceTask): (PieceTarget & { readonly note: number })[] {
  const { map, fromTicks, toTicks, startSec, from } = timesOf(task);
  return (task.part ?? []).flatMap((note, index) =>
    note.startTicks < fromTicks || note.startTicks >= toTicks
      ? []
      : [
          {
            onsetSec: swungSec(map, note.startTicks, task.swing) - startSec,
            midi: note.midi,
            bar: barAt(task.bars, note.startTicks) - from,
            note: index,
          },
        ],
  );
}

/** Length of a felt beat at the start of the take, s. */
export const beatSecOf = (task: PieceTask): number => {
  const { map, fromTicks } = timesOf(task);
  const { beatUnit, grouping } = task.phrase.metre;
  const quarters = beatUnit >= 8 ? ((grouping[0] ?? 2) * 4) / beatUnit : 4 / beatUnit;
  return quarters * (60 / map.bpmAt(fromTicks));
};

/** "12", or "12 (2nd time)" is the catalogue's: which time a bar of the page is played here, from 1. */
export function timeOfBar(bars: readonly PieceBar[], bar: number): number {
  const { printed } = bars[bar]!;
  return bars.slice(0, bar + 1).filter((other) => other.printed === printed).length;
}
