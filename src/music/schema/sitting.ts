import * as v from 'valibot';
import { SHAPE_FAMILIES } from '../chords/families.ts';
import { KINDS } from '../kinds.ts';
import { FAULTS, type SittingRun, type SittingSetup, type Station } from '../sitting.ts';
import type { Task } from '../task.ts';
import { LIMITS } from './limits.ts';
import { id, instant, instrument, list, number, points, text, whole } from './parts.ts';
import { scaleEntry } from './scaleEntry.ts';
import type { Covers } from './take.ts';

const weight = points;
const level = whole(LIMITS.level);
const count = whole(LIMITS.stationItems);
const seconds = number(LIMITS.practiceSec);
const trackId = v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/));

/** A name and six strings, low to high; whether the shape holds the chord is known where chords are made. */
const ownChord = v.strictObject({
  symbol: text(20),
  frets: v.nullable(v.pipe(v.array(v.nullable(whole(LIMITS.frets))), v.length(6))),
});

const station = v.variant('what', [
  v.strictObject({ what: v.literal('sound'), weight }),
  v.strictObject({
    what: v.literal('pieces'),
    weight,
    pieces: list(v.strictObject({ trackId, title: text(LIMITS.titleSigns) }), LIMITS.stationItems),
  }),
  v.strictObject({
    what: v.literal('scales'),
    weight,
    level,
    list: v.nullable(v.strictObject({ name: text(80), instrument, entries: list(scaleEntry, [1, 500]) })),
    count,
    click: v.boolean(),
  }),
  v.strictObject({
    what: v.literal('chords'),
    weight,
    list: v.exactOptional(v.strictObject({ name: text(80), chords: list(ownChord, [1, LIMITS.ownChords]) })),
    families: list(v.picklist(SHAPE_FAMILIES), [1, SHAPE_FAMILIES.length]),
    how: v.picklist(['named', 'progression']),
    count,
    voicing: v.picklist(['shape', 'any']),
    tempoBpm: number(LIMITS.tempoBpm),
  }),
  v.strictObject({
    what: v.literal('unseen'),
    weight,
    offers: v.picklist(['both', 'reading', 'improvising']),
    readingLevel: level,
    shows: v.picklist(['both', 'staff', 'tab']),
    click: v.boolean(),
    readingSec: seconds,
    improvisingLevel: level,
    plays: v.picklist(['line', 'chords']),
    improvisingSec: seconds,
  }),
  v.strictObject({ what: v.picklist(['melody', 'rhythm']), weight, level, count }),
  v.strictObject({ what: v.literal('questions'), weight, level, count }),
]);

/** A setup from any door: a setting, a backup, a file given to the command line. */
export const sittingSetup = v.strictObject({
  version: v.literal(1),
  id,
  name: v.pipe(text(60), v.trim(), v.minLength(1)),
  instrument,
  tuning: list(whole(LIMITS.openStringMidi), LIMITS.strings),
  stations: list(station, LIMITS.stations),
});

const played = v.strictObject({
  kind: v.picklist([...(Object.keys(KINDS) as Task['kind'][]), 'question'] as const),
  attemptId: v.nullable(id),
  mark: v.nullable(points),
  outcome: v.nullable(v.picklist(['there', 'close', 'not-yet'])),
  right: v.nullable(v.boolean()),
  own: v.nullable(points),
});

const stationRun = v.strictObject({
  tries: whole(LIMITS.stationTries),
  choice: v.nullable(v.picklist(['reading', 'improvising'])),
  order: list(whole([0, LIMITS.stationItems[1] - 1]), [0, LIMITS.stationItems[1]]),
  played: list(played, [0, LIMITS.stationItems[1]]),
  faults: list(v.strictObject({ why: v.picklist(FAULTS), atMs: instant }), LIMITS.stationTries),
  passed: v.boolean(),
});

/** A sitting under way or over. */
export const sittingRun = v.pipe(
  v.strictObject({
    version: v.literal(1),
    id,
    setup: sittingSetup,
    seed: whole(LIMITS.seed),
    examiner: v.boolean(),
    startedAtMs: instant,
    spentMs: instant,
    sinceMs: v.nullable(instant),
    phase: v.picklist(['before', 'under', 'break', 'over']),
    at: whole([0, LIMITS.stations[1]]),
    pick: whole([0, LIMITS.stationItems[1]]),
    stations: list(stationRun, LIMITS.stations),
  }),
  v.check(({ setup, stations }) => setup.stations.length === stations.length, 'one account a station'),
  v.check(
    ({ at, phase, setup }) =>
      (phase === 'over') === (at === setup.stations.length) && at <= setup.stations.length,
    'it stands at one of its stations, or is over',
  ),
);

/** Fails to compile when a contract gains a key that the schema would refuse. */
export const COVERED_SITTING: readonly [
  Covers<Station, v.InferInput<typeof station>>,
  Covers<SittingSetup, v.InferInput<typeof sittingSetup>>,
  Covers<SittingRun, v.InferInput<typeof sittingRun>>,
] = [true, true, true];
