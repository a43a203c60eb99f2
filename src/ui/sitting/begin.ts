import type { SittingSetup } from '../../music/sitting.ts';
import { chordFits, itemsAt, levelList, type Programme, type Unit } from '../../tests-engine/index.ts';
import { play } from '../programme/goOn.ts';
import { freshSeed } from '../session/choose.ts';
import { session } from '../session.svelte.ts';
import { go } from '../state/route.svelte.ts';

/** Where others like a unit's first task come from. null: it has a page of its own. */
function programmeOf({ stations, instrument, tuning }: SittingSetup, { what, at }: Unit): Programme | null {
  const station = stations[at]!;
  if (station.what === 'scales') {
    const level = station.list ? null : station.level;
    const list = station.list ?? levelList(station.level, instrument);
    return { from: 'scales', list, level, tuning, click: station.click };
  }
  if (station.what === 'chords') {
    const { families, how, count, voicing, tempoBpm } = station;
    const own = station.list?.chords.filter(chordFits) ?? [];
    return {
      ...{ from: 'chords', families, how, count, voicing, tempoBpm },
      ...(own.length > 0 ? { chords: own } : {}),
    };
  }
  if (station.what === 'unseen') {
    const { shows, click, plays } = station;
    return what === 'improvising'
      ? {
          from: 'improvising',
          ...{ level: station.improvisingLevel, prepareSec: station.improvisingSec, plays },
          ...{ instrument, tuning },
        }
      : {
          from: 'reading',
          ...{ level: station.readingLevel, prepareSec: station.readingSec, prepareClick: click },
          ...{ shows, click, instrument, tuning },
        };
  }
  if (station.what === 'melody' || station.what === 'rhythm')
    return { from: 'like', kind: station.what, level: station.level, instrument, tuning };
  return null;
}

/** Begins a unit of a plan as the sitting would ask it, as in an exam; others like it come after it. */
export function beginUnit(setup: SittingSetup, unit: Unit): void {
  const programme = programmeOf(setup, unit);
  const choice = unit.what === 'improvising' ? 'improvising' : 'reading';
  const [first] = itemsAt({ setup, seed: freshSeed() }, unit.at, { tries: 0, choice });
  if (programme && first?.is === 'task') return play(session, first.task, 'strict', programme);
  go(unit.what === 'questions' ? 'questions' : 'piece');
}
