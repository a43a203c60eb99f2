import { describe, expect, it } from 'vitest';
import { StoreProblem } from '../../../src/store/index.ts';
import type { StoreProblemCode } from '../../../src/store/index.ts';
import { Disk } from '../../../src/ui/record/disk.svelte.ts';
import { memory } from './support.ts';

/** A disk whose opening fails with each of these in turn, and then succeeds. */
function failing(...codes: StoreProblemCode[]) {
  const { store } = memory();
  let opened = 0;
  let closed: (code: StoreProblemCode) => void = () => undefined;
  const disk = new Disk({
    open: async (onProblem) => {
      closed = onProblem;
      const code = codes[opened++];
      if (code) throw new StoreProblem(code, 'for the test');
      return store;
    },
    read: async () => undefined,
  });
  return { disk, store, times: () => opened, close: (code: StoreProblemCode) => closed(code) };
}

describe('the record of this browser', () => {
  it('is opened once, however many ask for it', async () => {
    const { disk, store, times } = failing();
    expect(await Promise.all([disk.open(), disk.open(), disk.use(async (it) => it)])).toEqual([
      store,
      store,
      store,
    ]);
    expect(times()).toBe(1);
    expect(disk.problem).toBeNull();
  });

  it('is tried again after a full disk, and never again where it cannot be had', async () => {
    const full = failing('disk', 'slow');
    expect(await full.disk.open()).toBeNull();
    expect(full.disk.problem).toBe('disk');
    expect(await full.disk.isHopeless()).toBe(false);
    expect(await full.disk.open()).toBe(full.store);

    const none = failing('unavailable');
    expect(await none.disk.use(async () => 1)).toBeNull();
    expect(await none.disk.isHopeless()).toBe(true);
    expect(none.times()).toBe(1);
  });

  it('shows what a job met and gives null; after something was written, what passes has passed', async () => {
    const { disk, close } = failing();
    const job = (error: Error) => disk.use(() => Promise.reject(error));
    expect(await job(new StoreProblem('quota', 'full'))).toBeNull();
    expect(disk.problem).toBe('quota');
    disk.wrote();
    expect(disk.problem).toBeNull();
    expect(await job(new Error('a fault of ours'))).toBeNull();
    expect(disk.problem).toBe('failed');
    close('newer-version');
    disk.wrote();
    expect(disk.problem).toBe('newer-version');
  });
});
