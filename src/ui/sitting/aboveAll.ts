import type { SittingSetup } from '../../music/sitting.ts';
import {
  due,
  known,
  estimate,
  levelList,
  weakChordsOf,
  weakest,
  writtenEstimates,
  type Practised,
  type Unit,
} from '../../tests-engine/index.ts';
import { printed } from '../chordSymbol.ts';
import { PART_WORDS, t } from '../messages.ts';
import { historiesOf } from '../programme/asked.ts';
import { scaleName } from '../scaleName.ts';

const DAY_MS = 86_400_000;
/** More than two are none that one keeps in mind. */
const MOST = 2;
/** A part that comes off more often than this is no weakness, and one seen less often no knowledge. */
const SOUND = 0.9;
const LEAST_NOTES = 8;

/** Scales of the list that are least known and most due. */
function scalesOf(setup: SittingSetup, at: number, record: readonly Practised[], nowMs: number): string[] {
  const station = setup.stations[at];
  if (station?.what !== 'scales') return [];
  const { entries } = station.list ?? levelList(station.level, setup.instrument);
  const histories = historiesOf(entries, record);
  return entries
    .map((entry, i) => {
      const history = histories[i]!;
      return { entry, want: (1 - known(history)) * due(history, nowMs / DAY_MS) };
    })
    .sort((a, b) => b.want - a.want)
    .map(({ entry }) => scaleName(entry));
}

/** Parts of hearing that go wrong, surest first; they are of melodies and rhythms alike. */
const heardParts = (record: readonly Practised[], channels: readonly string[]): string[] =>
  weakest(estimate(record, 'strict'))
    .filter(
      ({ seen, expected, channel }) => seen >= LEAST_NOTES && expected < SOUND && channels.includes(channel),
    )
    .map(({ part }) => PART_WORDS[part]);

/**
 * What of a unit to take first, by name, out of takes as in an exam: scales that are due, chords and parts that go
 * wrong. Empty where nothing is known of it.
 */
export function aboveAll(
  setup: SittingSetup,
  { what, at }: Unit,
  all: readonly Practised[],
  nowMs: number,
): string[] {
  const record = all.filter(({ manner }) => manner === 'strict');
  const found: Readonly<Record<Unit['what'], () => string[]>> = {
    scales: () => scalesOf(setup, at, record, nowMs),
    chords: () => weakChordsOf(record, 'strict').map(printed),
    reading: () =>
      writtenEstimates(record, 'reading', 'strict')
        .filter(({ seen, chance }) => seen >= LEAST_NOTES && chance < SOUND)
        .sort((a, b) => a.chance - b.chance)
        .map(({ part }) => t(`part.${part}`)),
    melody: () => heardParts(record, ['pitch', 'time']),
    rhythm: () => heardParts(record, ['time']),
    pieces: () => [],
    improvising: () => [],
    questions: () => [],
  };
  return found[what]().slice(0, MOST);
}
