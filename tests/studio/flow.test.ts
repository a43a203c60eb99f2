import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SittingRun, SittingSetup } from '../../src/music/sitting.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import {
  StudioProblem,
  listed,
  makeRecovery,
  readRecovery,
  recover,
  removeDevice,
  writeRecovery,
} from '../../src/studio/index.ts';
import { defaultSetup, sit, standardTuning, startSitting } from '../../src/tests-engine/index.ts';
import { sampleAttempt } from '../store/support/sample.ts';
import { ENGINES, engineName, testServer } from './support/server.ts';
import type { TestServer } from './support/server.ts';

const MOCK: SittingSetup = defaultSetup({
  ...{ level: 1, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: 'c'.repeat(32), name: 'Mock' },
});
/** One that is over: this take is its scales, all else is left out. */
function sat(setup: SittingSetup, id: string, attemptId: string): SittingRun {
  let run = startSitting(setup, { id, seed: 4, atMs: 1_000 });
  for (let n = 0; run.phase !== 'over'; n++) run = sit(run, { type: 'pass' }, 2_000 + n);
  const played = { kind: 'melody', attemptId, mark: 90, outcome: 'there', right: null, own: null } as const;
  const at = setup.stations.findIndex(({ what }) => what === 'scales');
  return { ...run, stations: run.stations.map((one, i) => (i === at ? { ...one, played: [played] } : one)) };
}

describe.each(ENGINES)('a studio on %s', (where) => {
  let server: TestServer;
  beforeAll(async () => (server = await testServer(where)));
  afterAll(async () => {
    expect(server.failures).toEqual([]);
    await server.close();
  });

  /** Two teachers' machines that know two students and a take, which was filed under the wrong one. */
  async function twoDesks() {
    const desk = await server.firstDesk();
    const [wrong, right] = [
      await desk.students.add('A. B.', 'guitar'),
      await desk.students.add('C. D.', 'guitar'),
    ];
    const attempt = await desk.attempts.finish(null, sampleAttempt(wrong.id, 0, null));
    await desk.sync();
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    return { desk, second, wrong, right, attempt };
  }

  it(`${engineName(where)}: a remark follows its take, which another desk has moved, and outlives the student it was first under`, async () => {
    for (const remarkSentFirst of [true, false]) {
      const { desk, second, wrong, right, attempt } = await twoDesks();
      const phone = server.device();
      await phone.joinBy(await desk.invite(right.id));

      // Neither knows of the other: one desk moves the take, the other writes a remark on it.
      await desk.attempts.move(attempt.id, right.id);
      const said = await second.attempts.override({
        ...{ attemptId: attempt.id, verdicts: [], mark: 90, remark: 'good' },
      });
      if (remarkSentFirst) await second.sync();
      await desk.sync();
      await desk.students.remove(wrong.id);
      await desk.sync();
      for (let k = 0; k < 2; k++) for (const device of [second, desk, phone]) await device.sync();
      for (const device of [second, desk, phone]) {
        expect(await device.attempts.overridesOf(attempt.id)).toMatchObject([
          { id: said.id, remark: 'good' },
        ]);
        expect((await device.records()).overrides).toMatchObject([{ studentId: right.id }]);
      }
    }
  });

  it('a remark that comes in for a take which was moved here is told on from here, its writer being away', async () => {
    const { desk, second, right, attempt } = await twoDesks();
    const phone = server.device();
    await phone.joinBy(await desk.invite(right.id));

    const said = await second.attempts.override({
      ...{ attemptId: attempt.id, verdicts: [], mark: 90, remark: 'good' },
    });
    await second.sync();
    await desk.attempts.move(attempt.id, right.id);
    await desk.sync();
    await phone.sync();
    expect(await phone.attempts.overridesOf(attempt.id)).toMatchObject([
      { id: said.id, studentId: right.id },
    ]);
  });

  it('a take that one desk moves while another deletes a student: away from them it lives, to them it goes with them, on both', async () => {
    const desk = await server.firstDesk();
    const [stays, goes] = [
      await desk.students.add('A. B.', 'guitar'),
      await desk.students.add('C. D.', 'guitar'),
    ];
    const saved = await desk.attempts.finish(null, sampleAttempt(goes.id, 0, null));
    const lost = await desk.attempts.finish(null, sampleAttempt(stays.id, 1, null));
    await desk.sync();
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();

    await desk.attempts.move(saved.id, stays.id);
    await desk.attempts.move(lost.id, goes.id);
    await second.students.remove(goes.id);
    await desk.sync();
    for (let k = 0; k < 2; k++) for (const device of [second, desk]) await device.sync();
    for (const device of [second, desk])
      expect((await device.records()).attempts).toMatchObject([{ id: saved.id, studentId: stays.id }]);
  });

  it(`${engineName(where)}: homework goes out, the take and the remark come back, a second desk sees all`, async () => {
    const desk = await server.firstDesk();
    const student = await desk.students.add('A. B.', 'guitar');
    await desk.students.change(student.id, { remark: 'only for the desk' });
    const task = sampleAttempt(student.id, 0).test;
    const homework = await desk.students.setHomework({
      ...{
        studentId: student.id,
        manner: 'strict',
        tests: [task],
        dueOn: null,
        text: 'slowly',
        thresholds: null,
      },
    } as never);
    await desk.students.addNote(student.id, 'a note of the lesson');
    await desk.sync();

    const phone = server.device();
    await phone.joinBy(await desk.invite(student.id));
    await phone.sync();
    expect(await phone.students.all()).toMatchObject([{ id: student.id, name: 'A. B.', remark: '' }]);
    expect(await phone.students.homework(student.id)).toEqual([homework]);
    expect(await phone.students.notes(student.id)).toEqual([]);

    const attempt = await phone.attempts.finish(null, sampleAttempt(student.id, 0, homework.id));
    await phone.sync();
    await desk.sync();
    expect(await desk.attempts.get(attempt.id)).toEqual(attempt);
    const said = await desk.attempts.override({
      attemptId: attempt.id,
      verdicts: [],
      mark: 90,
      remark: 'good',
    });
    await desk.sync();
    await phone.sync();
    expect(await phone.attempts.overridesOf(attempt.id)).toEqual([said]);

    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect(await second.records()).toEqual(await desk.records());
    expect(await second.students.notes(student.id)).toHaveLength(1);
    // Nothing of it can be read where it lies.
    const everything = JSON.stringify(
      await server.db.query('select encode(body, $1) as body from items', ['escape']),
    );
    for (const word of ['A. B.', 'slowly', 'good', 'lesson']) expect(everything).not.toContain(word);
  });

  it('a whole sitting set as homework goes out with its day; sat on the phone it comes back with its takes; of other stations it is none of it', async () => {
    const desk = await server.firstDesk();
    const student = await desk.students.add('A. B.', 'guitar');
    const homework = await desk.students.setHomework({
      ...{ studentId: student.id, manner: 'strict', tests: [], dueOn: '2027-01-08', sitting: MOCK },
    });
    const phone = server.device();
    await desk.sync();
    await phone.joinBy(await desk.invite(student.id));
    await phone.sync();
    const [set] = await phone.students.homework(student.id);
    expect(set).toEqual(homework);
    expect(set).toMatchObject({ dueOn: '2027-01-08', sitting: { ...MOCK, id: homework.id } });

    const attempt = await phone.attempts.finish(null, sampleAttempt(student.id, 0));
    const kept = await phone.sittings.put(student.id, sat(set!.sitting!, '1'.repeat(32), attempt.id));
    const easier = { ...set!.sitting!, stations: set!.sitting!.stations.slice(1) };
    const other = await phone.sittings.put(student.id, sat(easier, '2'.repeat(32), attempt.id));
    await phone.sync();
    await desk.sync();
    expect(await desk.attempts.get(attempt.id)).toEqual(attempt);
    expect(await desk.sittings.get(kept.id)).toEqual(kept);
    expect(await desk.sittings.ofHomework(homework.id)).toEqual([kept]);
    // It was sat all the same, and stands among the student's.
    expect(await desk.sittings.get(other.id)).toEqual(other);

    // What the teacher adds reaches the phone and a second desk; what the phone says of it afterwards takes nothing's place.
    const run = sit(kept.run, { type: 'own', station: 1, item: 0, mark: 72 }, 3_000);
    const marked = await desk.sittings.put(student.id, run);
    expect(marked).not.toEqual(kept);
    await desk.sync();
    await phone.sync();
    expect(await phone.sittings.get(kept.id)).toEqual(marked);
    await phone.sittings.put(
      student.id,
      sit(kept.run, { type: 'own', station: 1, item: 0, mark: 100 }, 9_000),
    );
    await phone.sync();
    await desk.sync();
    expect(await desk.sittings.get(kept.id)).toEqual(marked);
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect(await second.sittings.ofHomework(homework.id)).toEqual([marked]);
  });

  it('fetches several pages of takes, of which many hang together in one transaction, with every digest', async () => {
    const [desk, away] = [await server.firstDesk(), server.device()];
    const { id } = await desk.students.add('S', 'guitar');
    const [first] = [await desk.attempts.finish(null, sampleAttempt(id, 0))];
    const takes = Array.from({ length: 620 }, (_, n) => ({
      ...first,
      ...{ id: n.toString(16).padStart(32, '0'), order: 1e12 + n, atMs: 1e12 + n },
    }));
    const records = await desk.records();
    await desk.restore({ ...records, attempts: takes });
    await desk.sync();
    await away.joinBy(await desk.invite(null));
    const { pulled } = await away.sync();
    expect(pulled).toBeGreaterThan(620);
    expect(await away.records()).toEqual(await desk.records());
    expect(await away.db.digests.count()).toBe(621);
  });

  it('takes the last name of two, and keeps the other', async () => {
    const [desk, other] = [await server.firstDesk(), server.device()];
    const { id } = await desk.students.add('First', 'bass');
    await desk.sync();
    await other.joinBy(await desk.invite(null));
    await other.sync();
    other.clockMs = 5000;
    await desk.students.change(id, { name: 'Second' });
    await other.students.change(id, { name: 'Third' });
    await other.sync();
    await desk.sync();
    await other.sync();
    for (const one of [desk, other]) expect(await one.students.get(id)).toMatchObject({ name: 'Third' });
    expect((await desk.db.history.toArray()).map(({ row }) => (row as { name: string }).name)).toEqual([
      'Second',
    ]);
    expect(await desk.db.conflicts.count()).toBe(0);
  });

  it('removes a device: it gets and sends nothing more, and what is written later has a key that it never had', async () => {
    const [desk, other, phone] = [await server.firstDesk(), server.device(), server.device()];
    const { id } = await desk.students.add('S', 'guitar');
    await desk.sync();
    await other.joinBy(await desk.invite(null));
    await phone.joinBy(await desk.invite(id));
    for (const one of [other, phone]) await one.sync();
    const had = new Set(other.member!.keys.map((key) => key.id));
    const rows = await listed(await desk.api(), desk.member!);
    expect(rows.map(({ label }) => label).sort()).toEqual([desk.name, other.name, phone.name].sort());
    await desk.keep(await removeDevice(await desk.api(), desk.member!, other.member!.device));
    await expect(other.sync()).rejects.toMatchObject({ code: 'unknown-device' });
    // The phone stays, is given the new key, and goes on.
    const { id: attemptId } = await phone.attempts.finish(null, sampleAttempt(id, 2));
    await phone.sync();
    await desk.sync();
    expect(await desk.attempts.get(attemptId)).not.toBeNull();
    const [row] = await server.db.query<{ key_id: string }>(
      'select key_id from items where studio = $1 order by seq desc limit 1',
      [desk.member!.studio],
    );
    expect(had.has(row!.key_id)).toBe(false);
    const old = desk.member!.keys.filter((key) => had.has(key.id));
    expect(old.length).toBeGreaterThan(0);
    expect(old.every(({ retired }) => retired)).toBe(true);
  });

  it('deletes a student everywhere: on the server, at a desk that was away, on their phone; an old backup brings nobody back', async () => {
    const [desk, away, phone] = [await server.firstDesk(), server.device(), server.device()];
    const [{ id }, stays] = [
      await desk.students.add('Goes', 'guitar'),
      await desk.students.add('Stays', 'guitar'),
    ];
    await desk.attempts.finish(null, sampleAttempt(id, 1));
    await desk.sync();
    await away.joinBy(await desk.invite(null));
    await phone.joinBy(await desk.invite(id));
    for (const one of [away, phone]) await one.sync();
    const backup = await desk.records();
    await desk.students.remove(id);
    await desk.sync();
    const { studio } = desk.member!;
    for (const table of ['items', 'keys'])
      expect(
        await server.db.query(`select 1 from ${table} where studio = $1 and scope = $2`, [studio, id]),
      ).toEqual([]);
    expect(
      await server.db.query('select 1 from devices where studio = $1 and student = $2', [studio, id]),
    ).toEqual([]);
    // A year later: it even has something of them to send.
    away.clockMs = 366 * 86_400_000;
    await away.attempts.finish(null, sampleAttempt(id, 3));
    await away.sync();
    await expect(phone.sync()).rejects.toMatchObject({ code: 'student-gone' });
    await desk.restore(backup);
    await desk.sync();
    await away.restore(backup);
    await away.sync();
    for (const one of [desk, away]) {
      expect((await one.students.all()).map((student) => student.id)).toEqual([stays.id]);
      expect(await one.db.attempts.count()).toBe(0);
    }
    expect(await phone.students.all()).toEqual([]);
    expect(await phone.db.attempts.count()).toBe(0);
  });

  it('gets in again by the recovery sheet when every device is lost', async () => {
    const desk = await server.firstDesk();
    await desk.students.add('Kept', 'guitar');
    await desk.sync();
    const sheet = writeRecovery(await makeRecovery(desk.fetch, '', desk.member!, 'Sheet'));
    // Keys that came after the sheet was printed reach it too.
    const thief = server.device();
    await thief.joinBy(await desk.invite(null));
    await desk.keep(await removeDevice(await desk.api(), desk.member!, thief.member!.device));
    await desk.students.add('Later', 'bass');
    await desk.sync();
    const found = server.device();
    found.member = await recover(found.fetch, '', readRecovery(sheet)!, 'New');
    await found.studio.enter(found.member);
    await found.sync();
    expect((await found.students.all()).map(({ name }) => name)).toEqual(['Kept', 'Later']);
  });

  it('tells a server that was set back to an older copy everything again', async () => {
    const [desk, other] = [await server.firstDesk(), server.device()];
    await desk.students.add('One', 'guitar');
    await desk.sync();
    await other.joinBy(await desk.invite(null));
    await other.sync();
    const { studio } = desk.member!;
    await server.db.query('delete from items where studio = $1', [studio]);
    await server.db.query(`update studios set era = 'e0' || substr(era, 3) where id = $1`, [studio]);
    await desk.sync();
    const third = server.device();
    await third.joinBy(await desk.invite(null));
    await third.sync();
    expect((await third.students.all()).map(({ name }) => name)).toEqual(['One']);
  });

  it('takes each row once, however often it is sent, and in whichever company', async () => {
    const desk = await server.firstDesk();
    const { studio, keys } = desk.member!;
    const api = await desk.api();
    const item = (n: number) => ({
      ...{ id: n.toString(16).padStart(32, '0'), scope: studio, lane: 'desk' as const },
      ...{ keyId: keys[0]!.id, body: 'AAAA' },
    });
    for (const numbers of [[1], [1], [1, 2], [2, 2, 3], [3, 1]])
      await api.push({ schema: SCHEMA_VERSION, items: numbers.map(item), drop: [] });
    const rows = await server.db.query<{ id: string; seq: number }>(
      'select id, seq from items where studio = $1 order by seq',
      [studio],
    );
    expect(rows.map(({ id }) => Number(id))).toEqual([1, 2, 3]);
    expect(new Set(rows.map(({ seq }) => Number(seq))).size).toBe(3);
    const pages = [];
    for (let after = 0, more = true; more;) {
      const page = await api.pull(after, SCHEMA_VERSION);
      pages.push(...page.items);
      ({ next: after, more } = page);
    }
    expect(pages.map(({ id }) => Number(id))).toEqual([1, 2, 3]);
  });

  it('refuses a device of an older app with a sentence, and changes nothing', async () => {
    const desk = await server.firstDesk();
    await desk.students.add('One', 'guitar');
    await desk.sync();
    const api = await desk.api();
    const before = await server.db.query('select * from studios order by id');
    for (const call of [() => api.push({ schema: 1, items: [], drop: [] }), () => api.pull(0, 1)]) {
      const error = await call().then(
        () => null,
        (one: unknown) => one,
      );
      expect(error).toBeInstanceOf(StudioProblem);
      expect(error).toMatchObject({
        code: 'old-schema',
        message: expect.stringMatching(/newer version of the app/),
      });
    }
    expect(await server.db.query('select * from studios order by id')).toEqual(before);
  });
});
