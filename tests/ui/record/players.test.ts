import { describe, expect, it } from 'vitest';
import type { Student } from '../../../src/store/index.ts';
import { Players } from '../../../src/ui/record/players.svelte.ts';
import { diskOf, ID, memory, student } from './support.ts';

async function playersOf(...all: Student[]) {
  const kept = memory(all);
  const followed: unknown[] = [];
  const chosen: string[] = [];
  const players: Players = new Players({
    disk: diskOf(kept.store, (store) => players.read(store)),
    follow: (card) => followed.push(card),
    chosen: ({ name }) => chosen.push(name),
    me: () => 'Me',
    instrument: () => 'bass',
    apart: (name, what) => `${name} (${what})`,
    instrumentWord: (instrument) => instrument,
  });
  await players.lookAround();
  return { players, followed, chosen, ...kept };
}

describe('who plays', () => {
  it('is the only student of a machine, called by the name given until a card says another', async () => {
    const { players, settings, chosen } = await playersOf();
    expect(players.mustAsk).toBe(false);
    expect(await players.player()).toMatchObject({ name: 'Me' });
    expect(players.student?.name).toBe('Me');
    expect(settings.get('student')).toBe(ID(90));
    expect(chosen).toEqual(['Me']);
  });

  it('is asked for where several could play, and remembered when the record opens again', async () => {
    const both = [student(1, 'Ann'), student(2, 'Ben')];
    const { players, store } = await playersOf(...both);
    expect(players.mustAsk).toBe(true);
    expect(await players.player()).toBeNull();
    await players.choose(both[1]!);
    expect(players.mustAsk).toBe(false);
    expect(await players.player()).toMatchObject({ name: 'Ben' });
    await players.read(store);
    expect(players.student?.name).toBe('Ben');
  });

  it('is nobody once that student was deleted', async () => {
    const ann = student(1, 'Ann');
    const { players, delete: remove } = await playersOf(ann, student(2, 'Ben'), student(3, 'Cy'));
    await players.choose(ann);
    remove(ann.id);
    await players.lookAround();
    expect(players.student).toBeNull();
    expect(await players.player()).toBeNull();
  });

  it('has a card that holds at once for whoever plays, and for nobody else', async () => {
    const [ann, ben] = [student(1, 'Ann'), student(2, 'Ben')];
    const { players, followed } = await playersOf(ann, ben);
    await players.choose(ann);
    followed.length = 0;
    await players.setCard(ben.id, { level: 4 });
    expect(followed).toEqual([]);
    await players.setCard(ann.id, { level: 3 });
    expect(followed).toEqual([{ level: 3 }]);
    expect(players.student?.level).toBe(3);
  });

  it('has outcomes of their own before those of everybody', async () => {
    const ann = student(1, 'Ann');
    const { players, store } = await playersOf(ann, student(2, 'Ben'));
    await players.setThresholds(null, { there: 90, close: 70 });
    await players.choose(ann);
    expect(players.usualThresholds).toEqual({ there: 90, close: 70 });
    await players.setThresholds(ann, { there: 75, close: 50 });
    expect(players.usualThresholds).toEqual({ there: 75, close: 50 });
    await players.read(store);
    expect(players.deskThresholds).toEqual({ there: 90, close: 70 });
  });

  it('is told from another of the same name', async () => {
    const same = [student(1, 'Ann'), { ...student(2, 'Ann'), instrument: 'guitar' as const }];
    const { players } = await playersOf(...same);
    expect(players.students.map((one) => players.nameOf(one))).toEqual(['Ann (bass)', 'Ann (guitar)']);
  });
});
