import * as fc from 'fast-check';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { StudioProblem } from '../../src/studio/index.ts';
import type { Fetch } from '../../src/studio/index.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import type { Records } from '../../src/store/types.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import type { Device } from './support/devices.ts';
import { fetchOf } from './support/devices.ts';
import { testServer } from './support/server.ts';
import type { TestServer } from './support/server.ts';

/**
 * Three to six machines do at random what machines do, over a network that cuts, repeats and swaps; in the end every one
 * holds the same record: what the rules make of all that was ever written. A seed that was once red is kept below.
 */
/** Ids and the time of a life come from its seed, so that it goes the same way whenever it is lived again. */
const chance = vi.hoisted(() => {
  let [state, ticks] = [0, 0];
  const next = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return (z ^ (z >>> 16)) >>> 0;
  };
  return {
    begin: (seed: number) => void ([state, ticks] = [seed, 0]),
    randomId: () => Array.from({ length: 4 }, () => next().toString(16).padStart(8, '0')).join(''),
    /** Several things happen within a millisecond. */
    nowMs: () => 1_800_000_000_000 + Math.floor(ticks++ / 4),
  };
});
vi.mock('../../src/store/ids.ts', async (original) => ({
  ...(await original<Record<string, unknown>>()),
  randomId: chance.randomId,
}));
/** A page of some rows: what belongs together comes in several, and a round may end between them. */
vi.mock('../../src/studio/wire.ts', async (original) => {
  const real = await original<{ readonly LIMITS: object }>();
  return { ...real, LIMITS: { ...real.LIMITS, pageBytes: 4_000 } };
});
vi.spyOn(Date, 'now').mockImplementation(chance.nowMs);

let server: TestServer;
beforeAll(async () => (server = await testServer()));
afterAll(async () => {
  expect(server.failures).toEqual([]);
  await server.close();
});

/** What the network does to one request. */
type Weather = 'through' | 'lost' | 'answer-lost' | 'twice' | 'late';

interface Step {
  readonly who: number;
  readonly pick: number;
  readonly do: Deed;
  readonly weather: readonly Weather[];
}
const DEEDS = {
  ...{ take: 4, student: 2, remark: 2, note: 1, homework: 1, blind: 1, rename: 3, threshold: 1 },
  ...{ 'drop-take': 1, move: 2, delete: 2, clock: 1, restart: 1, save: 2, restore: 2, sync: 9, die: 3 },
};
type Deed = keyof typeof DEEDS;

const THROUGH: readonly Weather[] = Array<Weather>(8).fill('through');

const step: fc.Arbitrary<Step> = fc.record({
  who: fc.nat(5),
  pick: fc.nat(1000),
  do: fc.oneof(
    ...Object.entries(DEEDS).map(([deed, weight]) => ({ weight, arbitrary: fc.constant(deed as Deed) })),
  ),
  // A round is four requests and more: most have to come through for anything to be known elsewhere.
  weather: fc.array(fc.constantFrom<Weather>(...THROUGH, 'lost', 'answer-lost', 'twice', 'late'), {
    minLength: 1,
    maxLength: 12,
    size: 'max',
  }),
});

/** A network in front of the server; requests that are late arrive before the next one of anybody. */
class Network {
  readonly #late: (() => Promise<unknown>)[] = [];
  readonly #app: Fetch;
  constructor(app: Fetch) {
    this.#app = app;
  }
  through(weather: Weather[]): Fetch {
    return async (url, init) => {
      for (const one of this.#late.splice(0)) await one();
      const now = weather.shift() ?? 'through';
      happens(now);
      if (now === 'lost') throw new TypeError('cut before it arrived');
      if (now === 'late') {
        this.#late.push(() => this.#app(url, init));
        throw new TypeError('given up');
      }
      const answer = await this.#app(url, init);
      if (url.includes('/pull') && ((await answer.clone().json()) as { more?: boolean }).more)
        happens('several pages');
      if (now === 'twice') await this.#app(url, init);
      if (now === 'answer-lost') throw new TypeError('cut on the way back');
      return answer;
    };
  }
}

/** How often each thing really happened in all lives together: what never does is not tried. */
const happened = new Map<string, number>();
const happens = (what: string): void => void happened.set(what, (happened.get(what) ?? 0) + 1);

/** What was ever done, told without looking at any machine's record. */
interface Truth {
  readonly students: Set<string>;
  readonly deleted: Set<string>;
  readonly written: Map<string, { readonly table: keyof Records; readonly student: string }>;
  /** Whose each attempt has ever been, on any machine. */
  readonly owners: Map<string, Set<string>>;
  readonly removed: Set<string>;
  /** Every name and threshold that was given, with its place in the order of changes. */
  readonly given: {
    readonly at: string;
    readonly stamp: number;
    readonly item: string;
    readonly value: unknown;
  }[];
}

const samples = Array.from({ length: 6 }, (_, n) => sampleAttempt('0'.repeat(32), n));

async function play(luck: number, count: number, steps: readonly Step[]): Promise<void> {
  chance.begin(luck);
  const network = new Network(fetchOf(server.app));
  const first = await server.firstDesk();
  const devices: Device[] = [first];
  while (devices.length < count) {
    const next = server.device();
    await next.joinBy(await first.invite(null));
    devices.push(next);
  }
  const truth: Truth = {
    students: new Set(),
    deleted: new Set(),
    written: new Map(),
    owners: new Map(),
    removed: new Set(),
    given: [],
  };
  const saved: Records[] = [];
  const note = (table: keyof Records, id: string, student: string) => {
    truth.written.set(id, { table, student });
    if (table === 'attempts') truth.owners.set(id, new Set([student]));
  };
  const give = async (device: Device, at: string, value: unknown): Promise<void> => {
    const { stamp, item } = (await device.db.versions.get(at))!;
    truth.given.push({ at, stamp, item, value });
  };
  // They have known each other for a while.
  for (let n = 0; n < 3; n++) {
    const { id } = await first.students.add(`First ${n}`, 'guitar');
    truth.students.add(id);
    await give(first, `students ${id}`, `First ${n}`);
    for (let k = 0; k < 2; k++)
      note('attempts', (await first.attempts.finish(null, { ...samples[n + k]!, studentId: id })).id, id);
  }
  for (const device of devices) await device.sync();

  for (const one of steps) await act(one);

  async function act(one: Step): Promise<void> {
    const device = devices[one.who % devices.length]!;
    const some = <T>(list: readonly T[]): T | undefined => list[one.pick % Math.max(1, list.length)];
    const student = some((await device.db.students.toCollection().primaryKeys()).sort());
    const attempt = some(await device.db.attempts.orderBy('id').toArray());
    switch (one.do) {
      case 'student': {
        const { id } = await device.students.add(`Student ${one.pick}`, 'guitar');
        truth.students.add(id);
        return;
      }
      case 'take':
        if (student !== undefined) {
          const sample = samples[one.pick % samples.length]!;
          note(
            'attempts',
            (await device.attempts.finish(null, { ...sample, studentId: student })).id,
            student,
          );
        }
        return;
      case 'remark':
        if (attempt) {
          const given = { attemptId: attempt.id, verdicts: [], mark: one.pick % 101, remark: `${one.pick}` };
          const { id } = await device.attempts.override(given);
          truth.written.set(id, {
            table: 'overrides',
            student: `of ${attempt.id}`,
          });
        }
        return;
      case 'note':
        if (student !== undefined)
          note('lessonNotes', (await device.students.addNote(student, 'n')).id, student);
        return;
      case 'homework':
        if (student !== undefined)
          note(
            'homework',
            (
              await device.students.setHomework({
                studentId: student,
                manner: 'strict',
                tests: [samples[0]!.test],
              })
            ).id,
            student,
          );
        return;
      case 'blind':
        if (attempt) {
          const { id } = await device.students.addBlindMark(attempt.id, 'kt', one.pick % 101);
          truth.written.set(id, {
            table: 'blindMarks',
            student: `of ${attempt.id}`,
          });
        }
        return;
      case 'drop-take':
        if (attempt) {
          await device.attempts.remove(attempt.id);
          truth.removed.add(attempt.id);
        }
        return;
      case 'move':
        if (attempt && student !== undefined) {
          await device.attempts.move(attempt.id, student);
          truth.owners.get(attempt.id)!.add(student);
        }
        return;
      case 'delete':
        if (student !== undefined) {
          const known = await Promise.all(devices.map(({ db }) => db.students.get(student)));
          if (known.filter((one) => one !== undefined).length > 1) happens('deleted, and known elsewhere');
          await device.students.remove(student);
          truth.deleted.add(student);
        }
        return;
      case 'rename':
        if (student !== undefined) {
          await device.students.change(student, { name: `Name ${one.pick % 40}` });
          await give(device, `students ${student}`, `Name ${one.pick % 40}`);
        }
        return;
      case 'threshold':
        await device.settings.set('thresholds', { there: 50 + (one.pick % 40), close: 40 });
        return give(device, 'settings thresholds', 50 + (one.pick % 40));
      case 'clock':
        device.clockMs = ((one.pick % 41) - 20) * 86_400_000;
        return happens('wrong clock');
      case 'restart':
        happens('restart');
        return device.restart();
      case 'save':
        saved.push(await device.records());
        return;
      case 'restore': {
        const records = some(saved);
        if (records) await device.restore(records);
        // What was not here is written anew by it, and so is as young as any change.
        for (const { id, name } of await device.db.students.toArray())
          await give(device, `students ${id}`, name);
        const thresholds = (await device.settings.get('thresholds')) as { readonly there: number } | null;
        if (thresholds) await give(device, 'settings thresholds', thresholds.there);
        return records && happens('old backup');
      }
      case 'die': {
        // The page ends in the middle of a round, before one of its transactions, and is opened again.
        device.fetch = network.through([]);
        device.dieBefore(one.pick % 6);
        const round = device.sync().then(
          () => 'lived',
          () => 'died in its round',
        );
        happens(await round);
        return device.restart();
      }
      case 'sync':
        device.fetch = network.through([...one.weather]);
        await device.sync().catch((error: unknown) => {
          if (!(error instanceof StudioProblem)) throw error;
        });
    }
  }

  // The network holds at last: what is late arrives, and everybody goes round until nothing is left to tell.
  for (const device of devices) device.fetch = network.through([]);
  for (let round = 0; round < 4; round++) for (const device of devices) await device.sync();
  const records = await Promise.all(devices.map((device) => device.records()));
  for (const [i, one] of records.entries()) expect(one, `device ${i} beside device 0`).toEqual(records[0]);
  for (const device of devices) expect(await device.db.versions.where('pending').equals(1).count()).toBe(0);
  // And once more with nothing new: nothing is sent, nothing comes.
  for (const device of devices)
    expect(await device.sync()).toMatchObject({ pulled: 0, pushed: 0, unreadable: 0 });

  const { studio } = first.member!;
  const ids = await server.db.query<{ id: string }>('select id from items where studio = $1', [studio]);
  expect(new Set(ids.map(({ id }) => id)).size, 'rows on the server').toBe(ids.length);

  const [one] = records as [Records];
  const here = new Set(one.students.map(({ id }) => id));
  expect(here, 'students').toEqual(new Set([...truth.students].filter((id) => !truth.deleted.has(id))));
  const owner = new Map(one.attempts.map(({ id, studentId }) => [id, studentId]));
  const expected = (table: 'attempts' | 'overrides' | 'blindMarks' | 'lessonNotes' | 'homework') =>
    [...truth.written].flatMap(([id, { table: own, student }]) => {
      const attemptId = student.startsWith('of ') ? student.slice(3) : null;
      const lives = attemptId === null ? here.has(student) || own === 'attempts' : owner.has(attemptId);
      // Where its attempt was of a student who was deleted it may have gone with them, though another has moved that away.
      const went = [...(truth.owners.get(attemptId ?? '') ?? [])].some((owner) => truth.deleted.has(owner));
      if (went && !one[table].some((row) => row.id === id)) return [];
      return own === table && lives && !truth.removed.has(id) ? [id] : [];
    });
  for (const table of ['lessonNotes', 'homework'] as const)
    expect(one[table].map(({ id }) => id).sort(), table).toEqual(expected(table).sort());
  const takes = new Set(one.attempts.map(({ id }) => id));
  // One that was ever moved to a student who was deleted may have gone with them, or have been moved on.
  for (const id of expected('attempts'))
    if (![...truth.owners.get(id)!].some((owner) => truth.deleted.has(owner)))
      expect(takes, 'attempts').toContain(id);
  for (const { id, studentId } of one.attempts) {
    expect(truth.removed.has(id), `a deleted take is back: ${id}`).toBe(false);
    expect(here.has(studentId), `a take of nobody: ${id}`).toBe(true);
  }
  for (const table of ['overrides', 'blindMarks'] as const)
    expect(one[table].map(({ id }) => id).sort(), table).toEqual(expected(table).sort());
  // Of all names and thresholds that were given the last stands, by the order of changes and then by random ids.
  const last = new Map<string, (typeof truth.given)[number]>();
  for (const one of truth.given) {
    const before = last.get(one.at);
    if (!before || one.stamp > before.stamp || (one.stamp === before.stamp && one.item > before.item))
      last.set(one.at, one);
  }
  const stands = new Map<string, unknown>([
    ...one.students.map(({ id, name }) => [`students ${id}`, name] as const),
    ...one.settings.map(
      ({ key, value }) => [`settings ${key}`, (value as { there?: number }).there] as const,
    ),
  ]);
  for (const [at, { value }] of last)
    if (!truth.deleted.has(at.slice('students '.length))) expect(stands.get(at), at).toBe(value);
  for (const device of devices) device.db.close();
}

/** Lives that were red once, with what they showed. */
const KEPT: readonly (readonly [seed: number, path: string, what: string])[] = [
  [1, '9', 'a deleted attempt came back'],
  [2, '4', 'the machines did not end in one record'],
  [3, '0', 'the machines did not end in one record'],
  [4, '1', 'a deleted attempt came back'],
  [5, '9', 'the machines did not end in one record'],
];

const property = () =>
  fc.asyncProperty(
    fc.noShrink(fc.nat()),
    fc.integer({ min: 3, max: 6 }),
    fc.array(step, { minLength: 40, maxLength: 70, size: 'max' }),
    play,
  );

const runs = Number(process.env['TWOBAR_MODEL_RUNS'] ?? 12);
const seed = Number(process.env['TWOBAR_MODEL_SEED'] ?? 20_261_128);

it(`${runs} lives of three to six machines from seed ${seed} on end in one record, equal to what was done`, async () => {
  // The first red life is told as it is: looking for the shortest takes many minutes, and ends in another fault as a rule.
  await fc.assert(property(), {
    seed,
    numRuns: runs,
    interruptAfterTimeLimit: 1_500_000,
    endOnFailure: true,
  });
  const all = [
    'lost',
    'answer-lost',
    'twice',
    'late',
    'restart',
    'died in its round',
    'wrong clock',
    'old backup',
    'several pages',
  ];
  for (const what of [...all, 'deleted, and known elsewhere'])
    expect(happened.get(what) ?? 0, what).toBeGreaterThan(0);
}, 1_600_000);

it.each(KEPT)('seed %i %s: %s', async (kept, path) => {
  await fc.assert(property(), { seed: kept, path, numRuns: 1, endOnFailure: true });
});

it('a remark follows its take away from a student who was deleted later, though the deletion is known some pages before the move', async () => {
  chance.begin(7);
  const desk = await server.firstDesk();
  const [wrong, right] = [
    await desk.students.add('A. B.', 'guitar'),
    await desk.students.add('C. D.', 'guitar'),
  ];
  const take = await desk.attempts.finish(null, sampleAttempt(wrong.id, 0, null));
  await desk.sync();
  const second = server.device();
  await second.joinBy(await desk.invite(null));
  await second.sync();
  const said = await second.attempts.override({
    ...{ attemptId: take.id, verdicts: [], mark: 90, remark: 'good' },
  });
  // Some pages of other things lie before the move.
  for (let n = 0; n < 12; n++) await desk.attempts.finish(null, sampleAttempt(right.id, n, null));
  await desk.attempts.move(take.id, right.id);
  await desk.sync();
  await desk.students.remove(wrong.id);
  await desk.sync();
  const first = await (
    await second.api()
  ).pull((await second.studio.local(second.member!).cursor()).after, SCHEMA_VERSION);
  expect(first).toMatchObject({ more: true, gone: [] });
  for (const device of [second, desk, second]) await device.sync();
  for (const device of [second, desk])
    expect((await device.records()).overrides).toMatchObject([{ id: said.id, studentId: right.id }]);
});
