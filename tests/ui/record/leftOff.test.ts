import { describe, expect, it } from 'vitest';
import { makeTest, type Standing } from '../../../src/tests-engine/index.ts';
import { LeftOff } from '../../../src/ui/programme/leftOff.svelte.ts';
import { diskOf, memory } from './support.ts';

const task = makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar' });
const other = makeTest({ kind: 'rhythm', level: 1, seed: 2, instrument: 'guitar' });
const list: Standing = {
  programme: { from: 'list', tasks: [task, other], at: 0 },
  task,
  manner: 'strict',
  done: true,
};

describe('what a page that was closed left', () => {
  it('is there for the next page, and gone as soon as that begins something', async () => {
    const { store } = memory();
    await new LeftOff(diskOf(store)).keep(list);
    const next = new LeftOff(diskOf(store));
    expect(next.now).toBeNull();
    await next.look();
    expect(next.now).toEqual(JSON.parse(JSON.stringify(list)));
    await next.keep({ ...list, task: other, done: false });
    expect(next.now).toBeNull();
    const third = new LeftOff(diskOf(store));
    await third.look();
    expect(third.now?.task.kind).toBe('rhythm');
    await third.forget();
    await next.look();
    expect([third.now, next.now]).toEqual([null, null]);
  });

  it('is nothing where only the start page’s settings were followed, or what was kept is damaged', async () => {
    const { store, settings } = memory();
    const left = new LeftOff(diskOf(store));
    await left.keep({ ...list, programme: { from: 'start' } });
    await left.look();
    expect(left.now).toBeNull();
    settings.set('standing', { ...list, done: 'yes' });
    await left.look();
    expect(left.now).toBeNull();
  });
});
