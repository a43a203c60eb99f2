import type { KeptRun, Unit, UnitKind } from './types.ts';
import type { SittingSetup, Station } from '../../music/sitting.ts';
import type { Task } from '../../music/task.ts';
import type { Practised } from '../progress/types.ts';
import type { Evidence } from './types.ts';

/** Which task a unit is played as; null: none. */
const PLAYED_AS: Readonly<Record<Task['kind'], UnitKind>> = {
  melody: 'melody',
  rhythm: 'rhythm',
  reading: 'reading',
  improvising: 'improvising',
  scale: 'scales',
  chords: 'chords',
  piece: 'pieces',
};

function unitsOf(station: Station, at: number): Unit[] {
  const unit = (what: UnitKind, level: number | null, count: number): Unit => ({
    ...{ what, at, level, count, weight: station.weight },
  });
  switch (station.what) {
    case 'sound':
      return [];
    case 'pieces':
      return [unit('pieces', null, station.pieces.length)];
    case 'scales':
      return [unit('scales', station.list ? null : station.level, station.count)];
    case 'chords':
      return [unit('chords', null, 1)];
    case 'unseen':
      return [
        ...(station.offers === 'improvising' ? [] : [unit('reading', station.readingLevel, 1)]),
        ...(station.offers === 'reading' ? [] : [unit('improvising', station.improvisingLevel, 1)]),
      ];
    default:
      return [unit(station.what, station.level, station.count)];
  }
}

/** What of a sitting can be practised by itself, in the sitting's order; where the player may choose, both. */
export const planUnits = ({ stations }: SittingSetup): Unit[] => stations.flatMap(unitsOf);

/** A wrong answer to a rhythm's question holds its outcome back: as a mark, just under "there". */
const held = ({ mark, outcome }: Pick<Practised, 'mark' | 'outcome'>, there: number): number | null =>
  mark !== null && mark >= there && outcome === 'close' ? there - 1 : mark;

/**
 * What the record tells of each unit: takes as in an exam, and the questions of sittings. The two manners are never
 * mixed.
 * @param there lowest mark for "there"
 */
export function evidenceFrom(
  record: readonly Practised[],
  sittings: readonly KeptRun[],
  there: number,
): Evidence[] {
  const takes = record
    .filter(({ manner }) => manner === 'strict')
    .map((one): Evidence => ({
      what: PLAYED_AS[one.kind],
      level: one.level,
      atMs: one.atMs,
      mark: held(one, there),
    }));
  const answers = sittings.flatMap(({ atMs, run }) =>
    run.stations.flatMap(({ played }, at): Evidence[] => {
      const right = played.flatMap((one) => (one.right === null ? [] : [Number(one.right)]));
      const station = run.setup.stations[at]!;
      if (right.length === 0 || !('level' in station)) return [];
      const mark = (100 * right.reduce((a, b) => a + b, 0)) / right.length;
      return [{ what: 'questions', level: station.level, atMs, mark }];
    }),
  );
  return [...takes, ...answers].sort((a, b) => a.atMs - b.atMs);
}
