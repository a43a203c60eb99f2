import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { SHAPE_FAMILIES } from '../../../src/music/chords/index.ts';
import { LIMITS, sittingRun } from '../../../src/music/schema/index.ts';
import type { Played, SittingRun, SittingSetup } from '../../../src/music/sitting.ts';
import {
  choices,
  defaultSetup,
  itemNow,
  itemsAt,
  mayBreak,
  parseSetup,
  readSitting,
  sit,
  spentAt,
  standardTuning,
  startSitting,
  stationKey,
  type SittingEvent,
} from '../../../src/tests-engine/index.ts';

const ID = '0123456789abcdef0123456789abcdef';
const PIECES = ['a', 'b', 'c'].map((name) => ({ trackId: name.repeat(32), title: `Piece ${name}` }));
const setupOf = (level: number, instrument: 'guitar' | 'bass' = 'guitar'): SittingSetup =>
  defaultSetup({
    level,
    instrument,
    tuning: standardTuning(instrument).strings,
    id: ID,
    name: 'Mock',
    pieces: PIECES,
  });
const SETUP = setupOf(2);
const start = (seed = 7): SittingRun => startSitting(SETUP, { id: ID, seed, atMs: 1000 });
const played = (kind: Played['kind'], mark: number | null = 80): Played => ({
  ...{ kind, attemptId: null, mark, outcome: null, right: null, own: null },
});
/** As the page does it: begins whatever is there, and plays it. */
const through = (run: SittingRun, until = Infinity): SittingRun => {
  let now = run;
  for (let at = 2000; now.phase !== 'over' && now.at < until; at += 1000)
    now = sit(sit(now, { type: 'goOn' }, at), { type: 'done', played: done(now) }, at + 500);
  return now;
};
const done = (run: SittingRun): Played | null =>
  SETUP.stations[run.at]?.what === 'sound' ? null : played('melody');

const event: fc.Arbitrary<SittingEvent> = fc.oneof(
  { weight: 6, arbitrary: fc.constant<SittingEvent>({ type: 'goOn' }) },
  fc.constant<SittingEvent>({ type: 'switch' }),
  { weight: 5, arbitrary: fc.constant<SittingEvent>({ type: 'done', played: played('scale') }) },
  fc.constantFrom<SittingEvent>(
    { type: 'done', played: null },
    { type: 'fault', why: 'microphone-unplugged' },
    { type: 'fault', why: 'hidden' },
    { type: 'pass' },
    { type: 'break' },
    { type: 'takenUp' },
  ),
  fc.record({
    type: fc.constant('own' as const),
    station: fc.nat(9),
    item: fc.nat(4),
    mark: fc.option(fc.integer({ min: 0, max: 100 })),
  }),
);

describe('our own sitting of a level', () => {
  it('fits the schema at every level and on both instruments, and each station gives what it asks for', () => {
    for (const instrument of ['guitar', 'bass'] as const)
      for (let level = 1; level <= 10; level++) {
        const setup = setupOf(level, instrument);
        expect(parseSetup(JSON.parse(JSON.stringify(setup)))).toEqual(setup);
        const run = startSitting(setup, { id: ID, seed: level, atMs: 0 });
        for (const [at, station] of setup.stations.entries()) {
          const items = itemsAt(run, at, run.stations[at]!);
          const asked = 'count' in station && station.what !== 'chords' ? station.count : 1;
          expect(items.length, `${instrument} ${level} ${station.what}`).toBe(
            station.what === 'pieces' ? 3 : asked,
          );
        }
      }
  });
  it('gives something at every number that a setup may hold, at both ends', () => {
    const chords = setupOf(1).stations.find(({ what }) => what === 'chords')!;
    for (const level of [1, 5, 10])
      for (const count of LIMITS.stationItems) {
        const stations = [
          { what: 'scales', weight: 0, level, list: null, count, click: true },
          ...SHAPE_FAMILIES.flatMap((family) =>
            (['named', 'progression'] as const).flatMap((how) =>
              LIMITS.tempoBpm.map((tempoBpm) => ({
                ...chords,
                ...{ count, how, tempoBpm, families: [family] },
              })),
            ),
          ),
          { what: 'melody', weight: 0, level, count },
          { what: 'rhythm', weight: 0, level, count },
          { what: 'questions', weight: 0, level, count },
        ];
        for (const station of stations) {
          const setup = parseSetup({ ...SETUP, stations: [station] });
          const items = itemsAt({ setup, seed: 7 }, 0, { tries: 0, choice: null });
          expect(items.length, JSON.stringify(station)).toBeGreaterThan(0);
        }
      }
  });
  it('asks the chords of a list of one’s own, leaves out a shape that does not hold its chord, and is another station then', () => {
    const chords = setupOf(1).stations.find(({ what }) => what === 'chords')!;
    const entries = [
      { symbol: 'F#m7', frets: null },
      { symbol: 'C', frets: [null, 3, 2, 0, 1, 0] },
    ];
    const wrong = { symbol: 'D', frets: [0, 0, 0, 0, 0, 0] };
    for (const how of ['named', 'progression']) {
      const list = { name: 'Mine', chords: [...entries, wrong] };
      const setup = parseSetup({ ...SETUP, stations: [{ ...chords, how, count: 6, list }] });
      const [item] = itemsAt({ setup, seed: 3 }, 0, { tries: 0, choice: null });
      const asked = item?.is === 'task' && item.task.kind === 'chords' ? item.task.chords : [];
      expect(new Set(asked.map(({ symbol }) => symbol))).toEqual(new Set(['F#m7', 'C']));
      expect(stationKey(setup.stations[0]!, null)).not.toBe(stationKey(chords, null));
    }
    const none = { ...chords, list: { name: 'Mine', chords: [] } };
    expect(() => parseSetup({ ...SETUP, stations: [none] })).toThrow(/this is no sitting/);
  });
  it('asks chords of no bass', () => {
    expect(setupOf(5, 'bass').stations.some(({ what }) => what === 'chords')).toBe(false);
  });
  it('refuses a level that is none, and a setup with a station nobody knows', () => {
    expect(() => setupOf(11)).toThrow(/level must be 1…10, got 11/);
    expect(() => parseSetup({ ...SETUP, stations: [{ what: 'dance', weight: 0 }] })).toThrow(RangeError);
    expect(() => parseSetup({ ...SETUP, stations: [] })).toThrow(/this is no sitting: stations/);
  });
});

describe('a sitting', () => {
  it('goes through every station in its order, each item once, and is over', () => {
    const run = through(start());
    expect(run.phase).toBe('over');
    for (const [at, station] of SETUP.stations.entries())
      expect(run.stations[at]!.played.length, station.what).toBe(
        station.what === 'sound' ? 0 : itemsAt(run, at, run.stations[at]!).length,
      );
  });
  it('is a plain value: whatever happens it fits its schema, comes back from the disk as it was, never goes back a station, and loses no time', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(event, fc.integer({ min: -5000, max: 60_000 })), { maxLength: 60 }),
        (steps) => {
          let run = start();
          let now = 1_000_000;
          for (const [what, by] of steps) {
            const before = run;
            now = Math.max(0, now + by);
            run = sit(run, what, now);
            expect(v.safeParse(sittingRun, run).success).toBe(true);
            expect(readSitting(JSON.parse(JSON.stringify(run)))).toEqual(run);
            expect(run.at).toBeGreaterThanOrEqual(before.at);
            expect(run.spentMs).toBeGreaterThanOrEqual(before.spentMs);
            // What lies behind stays as it was, but for the examiner's own marks.
            const plain = (one: SittingRun): unknown =>
              one.stations.slice(0, before.at).map((each) => ({
                ...each,
                played: each.played.map((p) => ({ ...p, own: null })),
              }));
            expect(plain(run)).toEqual(plain(before));
            if (run.phase === 'under') expect(itemNow(run)).not.toBeNull();
          }
        },
      ),
      { numRuns: 150 },
    );
  });
  it('gives a station other material after a fault, costs nothing, notes it, and keeps the stations behind it', () => {
    for (const [at, station] of SETUP.stations.entries()) {
      if (station.what === 'sound' || station.what === 'pieces') continue;
      const before = through(start(), at);
      const under = sit(before, { type: 'goOn' }, 90_000);
      const broken = sit(under, { type: 'fault', why: 'microphone-unplugged' }, 91_000);
      expect(broken.phase).toBe('before');
      expect(broken.stations.slice(0, at)).toEqual(before.stations.slice(0, at));
      expect(broken.stations[at]!.faults).toEqual([{ why: 'microphone-unplugged', atMs: 91_000 }]);
      expect(broken.stations[at]!.played).toEqual([]);
      const again = sit(broken, { type: 'goOn' }, 92_000);
      expect(JSON.stringify(itemNow(again)), station.what).not.toBe(JSON.stringify(itemNow(under)));
      expect(again.stations[at]!.choice).toBe(under.stations[at]!.choice);
    }
  });
  it('plays the piece again that a fault broke off, and keeps those played before', () => {
    const at = SETUP.stations.findIndex(({ what }) => what === 'pieces');
    let run = through(start(), at);
    expect(choices(run)).toBe(3);
    // Second of the three first.
    run = sit(run, { type: 'switch' }, 5000);
    run = sit(run, { type: 'goOn' }, 5100);
    run = sit(run, { type: 'done', played: played('piece') }, 6000);
    expect(choices(run)).toBe(2);
    run = sit(run, { type: 'goOn' }, 6100);
    const under = itemNow(run);
    run = sit(run, { type: 'fault', why: 'hidden' }, 6200);
    expect(choices(run)).toBe(0);
    run = sit(run, { type: 'goOn' }, 6300);
    expect(itemNow(run)).toEqual(under);
    expect(run.stations[at]!.order).toEqual([1, 0]);
    expect(run.stations[at]!.played).toHaveLength(1);
  });
  it('offers reading and improvising by two keys and keeps to what was chosen', () => {
    const at = SETUP.stations.findIndex(({ what }) => what === 'unseen');
    const run = through(start(), at);
    const kindOf = (one: SittingRun): string => {
      const item = itemNow(one);
      return item?.is === 'task' ? item.task.kind : '';
    };
    expect(kindOf(sit(run, { type: 'goOn' }, 1))).toBe('reading');
    const other = sit(run, { type: 'switch' }, 1);
    expect(kindOf(sit(other, { type: 'goOn' }, 2))).toBe('improvising');
    expect(kindOf(sit(sit(other, { type: 'switch' }, 2), { type: 'goOn' }, 3))).toBe('reading');
  });
  it('taken up after a crash begins the station anew; between stations nothing is lost and nothing noted', () => {
    const between = through(start(), 3);
    expect(sit(between, { type: 'takenUp' }, 9e9).stations).toEqual(between.stations);
    const under = sit(between, { type: 'goOn' }, 100_000);
    const later = sit(under, { type: 'takenUp' }, 100_000 + 86_400_000);
    expect(later.stations[3]!.faults).toEqual([{ why: 'closed', atMs: 100_000 + 86_400_000 }]);
    // The night in between is not its time.
    expect(spentAt(later, 100_000 + 86_400_000)).toBe(spentAt(under, 100_000));
  });
  it('takes a break between stations only, and no time goes in it', () => {
    const between = through(start(), 3);
    const resting = sit(between, { type: 'break' }, 200_000);
    expect(resting.phase).toBe('break');
    expect(spentAt(resting, 999_000_000)).toBe(resting.spentMs);
    expect(sit(resting, { type: 'goOn' }, 999_000_000).spentMs).toBe(resting.spentMs);
    expect(mayBreak(start())).toBe(false);
    const under = sit(between, { type: 'goOn' }, 200_000);
    expect(sit(under, { type: 'break' }, 201_000)).toBe(under);
  });
  it('can be ended anywhere: what was not played is passed over, what was stays', () => {
    const run = sit(through(start(), 4), { type: 'end' }, 1e6);
    expect(run.phase).toBe('over');
    expect(run.stations.map(({ passed }) => passed)).toEqual(SETUP.stations.map((_, i) => i >= 4));
  });
  it('keeps the examiner’s own mark beside the machine’s, and refuses one beyond 100', () => {
    const run = through(start(), 4);
    const own = sit(run, { type: 'own', station: 2, item: 0, mark: 60 }, 1);
    expect(own.stations[2]!.played[0]).toMatchObject({ mark: 80, own: 60 });
    expect(() => sit(run, { type: 'own', station: 2, item: 0, mark: 101 }, 1)).toThrow(
      /lies within 0…100, got 101/,
    );
  });
  it('draws the same material for the same seed and other material for another', () => {
    const of = (seed: number): string =>
      JSON.stringify(SETUP.stations.map((_, at) => itemsAt(start(seed), at, { tries: 0, choice: null })));
    expect(of(3)).toBe(of(3));
    expect(of(3)).not.toBe(of(4));
  });
});
