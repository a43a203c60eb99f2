import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ROUTES } from '../../src/studio/wire.ts';
import { ask, bearerOf } from '../studio/support/raw.ts';
import { ENGINES, engineName, testServer } from '../studio/support/server.ts';

/** A share of all that is tried, as in the other long tests. */
const SHARE = Number(process.env['TWOBAR_FUZZ'] ?? 1);

describe.each(ENGINES)('bodies that anybody may send', (where) => {
  it(`${engineName(where)}: 2,000 of every kind to every route: a sentence or an answer, never a failure, and what must stay stays`, async () => {
    const server = await testServer(where);
    const desk = await server.firstDesk();
    const { id } = await desk.students.add('Stays', 'guitar');
    await desk.sync();
    const phone = server.device();
    await phone.joinBy(await desk.invite(id));
    const bearers = [await bearerOf(desk.member!), await bearerOf(phone.member!), null, 'Bearer x'];
    const known = [id, desk.member!.studio, desk.member!.keys[0]!.id, 'teacher', 'shared', 'AAAA', 5];
    const words = fc.constantFrom(
      ...['schema', 'items', 'drop', 'keys', 'envelopes', 'id', 'scope', 'lane', 'keyId', 'body'],
    );
    const value: fc.Arbitrary<unknown> = fc.letrec((tie) => ({
      any: fc.oneof(
        { maxDepth: 4 },
        fc.constantFrom(...known),
        fc.jsonValue(),
        fc.array(tie('any'), { maxLength: 4 }),
        fc.dictionary(words, tie('any'), { maxKeys: 8 }),
      ),
    })).any;
    const body = fc.oneof(
      value,
      fc.record({
        schema: fc.constantFrom(5, 4, 0, '5'),
        items: fc.array(
          fc.record({
            id: fc.constantFrom(...known),
            scope: fc.constantFrom(...known),
            lane: fc.constantFrom('shared', 'desk', 'x'),
            keyId: fc.constantFrom(...known),
            body: fc.string(),
          }),
          { maxLength: 3 },
        ),
        drop: fc.array(fc.string(), { maxLength: 2 }),
      }),
      fc.string().map((text) => `{${text}`),
      fc.uint8Array({ maxLength: 200 }).map((bytes) => Buffer.from(bytes).toString('latin1')),
    );
    const posts = Object.keys(ROUTES).filter(
      (route) => route.startsWith('POST') && !/delete|withdraw/.test(route),
    );
    let tried = 0;
    await fc.assert(
      fc.asyncProperty(
        body,
        fc.nat(posts.length - 1),
        fc.nat(3),
        fc.constantFrom(id, 'x', '0'.repeat(32), '%27'),
        async (sent, route, who, place) => {
          const path = posts[route]!.slice(5).replace(':id', place);
          const answer = await ask(server.app, 'POST', path, bearers[who]!, sent);
          tried += 1;
          expect(answer.status).toBeLessThan(500);
          expect(answer.json).not.toBeNull();
          if (answer.status >= 400) expect(answer.json.sentence).toMatch(/\.$/);
        },
      ),
      { seed: 20_261_128, numRuns: Math.max(20, Math.floor(2000 * SHARE)) },
    );
    expect(tried).toBeGreaterThanOrEqual(20);
    expect(server.failures).toEqual([]);
    const second = server.device();
    await second.joinBy(await desk.invite(null));
    await second.sync();
    expect((await second.students.all()).map(({ name }) => name)).toEqual(['Stays']);
    await server.close();
  });
});
