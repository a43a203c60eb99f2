import 'fake-indexeddb/auto';
import { expect, it } from 'vitest';
import { makeDatabase } from '../../src/store/database.ts';
import { getThoseThere } from '../../src/store/there.ts';

it('gives the same as asking for each: in order, twice where asked twice, undefined where nothing is', async () => {
  const db = makeDatabase('there');
  const row = (n: number) => ({ attemptId: `a${n}`, studentId: 's' });
  for (const there of [[], Array.from({ length: 90 }, (_, n) => row(n * 2))]) {
    await db.loose.bulkPut(there);
    for (const count of [3, 120]) {
      const keys = Array.from({ length: count }, (_, n) => `a${(n * 7) % 110}`);
      const found = await getThoseThere(db.loose, keys);
      expect(found).toEqual(await db.loose.bulkGet(keys));
      expect(found.some((one) => one !== undefined)).toBe(there.length > 0);
    }
  }
  db.close();
});
