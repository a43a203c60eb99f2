import { describe, expect, it } from 'vitest';
import { createWorkspace, doubles, floats, singles } from '../../../src/dsp/signal/workspace.ts';

describe('a workspace', () => {
  it('gives the same memory again to the next stretch, as zeros', () => {
    const memory = createWorkspace();
    const first = memory.use(() => [doubles(1000).fill(7), floats(33).fill(7), singles([1, 2, 3])] as const);
    const second = memory.use(() => [doubles(1000), floats(33), singles([4, 5, 6])] as const);
    expect(second.map(({ buffer }) => buffer)).toEqual(first.map(({ buffer }) => buffer));
    expect(second.map(({ byteOffset }) => byteOffset)).toEqual(first.map(({ byteOffset }) => byteOffset));
    expect(second[0].every((x) => x === 0) && second[1].every((x) => x === 0)).toBe(true);
    expect([...second[2]]).toEqual([4, 5, 6]);
  });

  it('gives no array a part of another, however much is asked for', () => {
    const memory = createWorkspace();
    memory.use(() => {
      const arrays = Array.from({ length: 40 }, (_, i) => doubles(150_000 + i).fill(i));
      arrays.forEach((array, i) => expect(array.every((x) => x === i)).toBe(true));
      expect(doubles(6_000_000)).toHaveLength(6_000_000);
    });
  });

  it('is left when the work throws, and is not used twice at a time', () => {
    const memory = createWorkspace();
    const broken = (): never => {
      throw new RangeError('broken');
    };
    expect(() => memory.use(broken)).toThrow('broken');
    expect(doubles(8).buffer.byteLength).toBe(64);
    expect(() => memory.use(() => createWorkspace().use(() => doubles(1)))).toThrow(/in use/);
  });
});
