import type { HeardTake } from '../../../music/notes.ts';
import type { PieceTask } from '../../../music/task.ts';
import { median } from '../../../music/numbers.ts';
import type { Fact } from '../../marks/index.ts';
import { beatSecOf, timesOf } from './times.ts';

/** A silence longer than this many beats is told: nobody knows whether it is written. Common practice, no source. */
const LONG_BEATS = 8;
/** Grid on which strokes are looked for: semiquavers. */
const PARTS = 4;

/**
 * What can be said of a take whose notes nobody knows, from when something was struck: how far from the nearest
 * semiquaver of the backing (ours), how even, and where nothing was played for long.
 */
export function timingOfTrack(task: PieceTask, take: HeardTake): Fact[] {
  const { barSecs, lengthSec, from } = timesOf(task);
  const onsets = (
    take.strums?.map(({ firstSec }) => firstSec) ?? take.notes.map(({ onsetSec }) => onsetSec)
  ).filter((at) => at > -1 && at < lengthSec + 1);
  const page = (sec: number): number => {
    const bar = Math.max(
      0,
      barSecs.findLastIndex((at) => at <= sec),
    );
    return task.bars[Math.min(task.bars.length - 1, bar + from)]!.printed;
  };
  if (onsets.length < 3) return [{ code: 'piece-few', values: { count: onsets.length } }];
  const step = beatSecOf(task) / PARTS;
  const off = onsets.map((at) => {
    const bar = barSecs.findLastIndex((start) => start <= at);
    const inBar = at - (barSecs[Math.max(0, bar)] ?? 0);
    return (inBar - Math.round(inBar / step) * step) * 1000;
  });
  const bias = median([...off]);
  const spread = 1.4826 * median(off.map((ms) => Math.abs(ms - bias)));
  const facts: Fact[] = [
    { code: 'piece-strokes', values: { count: onsets.length } },
    { code: 'piece-bias', values: { ms: Math.round(bias) } },
    { code: 'piece-spread', values: { ms: Math.round(spread) } },
  ];
  for (let k = 1; k < onsets.length; k++) {
    const beats = (onsets[k]! - onsets[k - 1]!) / beatSecOf(task);
    if (beats > LONG_BEATS)
      facts.push({
        code: 'piece-silent',
        values: { bar: page(onsets[k - 1]!), toBar: page(onsets[k]!), beats: Math.round(beats) },
      });
  }
  return facts;
}
