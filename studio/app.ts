import compress from '@fastify/compress';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import files from '@fastify/static';
import Fastify from 'fastify';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import * as v from 'valibot';
import * as wire from '../src/studio/wire.ts';
import { HEADERS } from '../src/ui/hosting.ts';
import { callerOf } from './caller.ts';
import type { Caller } from './caller.ts';
import type { Database } from './database/sql.ts';
import { RATES, USUAL_SOUND_BYTES } from './limits.ts';
import type { Rates } from './limits.ts';
import { Refused } from './refused.ts';
import {
  deleteStudent,
  introduce,
  join,
  listDevices,
  makeInvite,
  removeDevice,
  withdrawInvite,
} from './routes/devices.ts';
import { keyRing, newKeys } from './routes/keys.ts';
import { deleteSounds, getSound, heldSound, putSound, soundState, switchSound } from './routes/sound.ts';
import { pull, push } from './routes/sync.ts';
import { newId } from './setup.ts';

export interface Options {
  readonly db: Database;
  /** Folder of the built app; without it the interface alone is served. */
  readonly dist?: string;
  readonly now?: () => number;
  readonly rates?: Rates;
  /** Behind a reverse proxy of this machine: addresses are told by its header. */
  readonly trustProxy?: boolean;
  /** Bytes of sound that a studio may hold; 0: none is taken. */
  readonly soundBytes?: number;
  /** Told of what went wrong inside; the caller is told no more than that. */
  readonly onFailure?: (error: unknown) => void;
}

/** What a route is given: who asks, and its body or question by its schema. */
interface Asked<B> {
  readonly caller: Caller;
  readonly body: B;
  readonly id: string;
  /** Whether the app understands what is said of sound. */
  readonly knowsSound: boolean;
}

/** The server: the built app and the interface of the studio under one origin. It does not listen yet. */
export async function makeServer({
  db,
  dist,
  now = Date.now,
  rates = RATES,
  soundBytes = USUAL_SOUND_BYTES,
  ...rest
}: Options): Promise<FastifyInstance> {
  const app = Fastify({
    bodyLimit: wire.LIMITS.bodyBytes,
    trustProxy: rest.trustProxy ? 'loopback' : false,
    // A body that comes in drops must not hold a connection for good.
    requestTimeout: 60_000,
    connectionTimeout: 90_000,
    onProtoPoisoning: 'error',
    onConstructorPoisoning: 'error',
  });
  // The page carries its own policy; here stands what a page cannot say of itself.
  await app.register(helmet, { contentSecurityPolicy: false, crossOriginEmbedderPolicy: false });
  app.addHook('onSend', async (_, reply, payload) => {
    reply.headers(HEADERS);
    return payload;
  });
  await app.register(rateLimit, {
    max: rates.address,
    timeWindow: 60_000,
    errorResponseBuilder: () => new Refused('too-often'),
  });
  await app.register(compress, { threshold: 1024 });
  app.setErrorHandler((error, _, reply) => {
    const refused = asRefused(error);
    if (refused.code === 'failed') rest.onFailure?.(error);
    return reply.code(refused.status).send({ code: refused.code, sentence: refused.message });
  });
  app.setNotFoundHandler((_, reply) => {
    const { code, status, message } = new Refused('not-found');
    return reply.code(status).send({ code, sentence: message });
  });
  if (dist !== undefined)
    await app.register(files, {
      root: dist,
      // What the builder names by its contents never changes; the page and the offline worker are asked for each time.
      setHeaders: (reply, path) =>
        reply.header(
          'Cache-Control',
          /\/assets\//.test(path) ? 'public, max-age=31536000, immutable' : 'no-cache',
        ),
    });

  const limitDevice = app.createRateLimit({
    max: rates.device,
    timeWindow: 60_000,
    keyGenerator: (request) => String(request.headers.authorization).slice(0, 80),
  });
  const limitJoin = app.createRateLimit({ max: rates.join, timeWindow: 60_000 });
  const within = async (limit: typeof limitJoin, request: FastifyRequest): Promise<void> => {
    const found = await limit(request);
    if (!found.isAllowed && found.isExceeded) throw new Refused('too-often');
  };

  /** Adds a route of the table: who may call it stands there alone. */
  const route = <B>(
    name: wire.Route,
    schema: v.GenericSchema<unknown, B>,
    answer: (asked: Asked<B>) => Promise<unknown>,
  ): void => {
    const [method, path] = name.split(' ') as ['GET' | 'POST', string];
    const allowed: readonly string[] = wire.ROUTES[name];
    app.route({
      method,
      url: wire.API + path,
      handler: async (request, reply) => {
        reply.header('Cache-Control', 'no-store');
        const anyone = allowed.includes('anyone');
        if (name === 'POST /join') await within(limitJoin, request);
        const caller = anyone ? NOBODY : await callerOf(db, request.headers.authorization, now());
        if (!anyone) {
          await within(limitDevice, request);
          if (!allowed.includes(caller.role)) throw new Refused('not-allowed');
        }
        if (!anyone && request.headers['x-studio-protocol'] !== String(wire.PROTOCOL))
          throw new Refused('newer-protocol');
        const parsed = v.safeParse(schema, method === 'GET' ? request.query : (request.body ?? {}), {
          abortEarly: true,
        });
        if (!parsed.success) throw new Refused('malformed');
        const { id = '' } = request.params as { id?: string };
        if (path.includes(':id') && !v.is(wire.id, id)) throw new Refused('not-found');
        const knowsSound = request.headers['x-studio-knows'] === wire.KNOWS_SOUND;
        return (await answer({ caller, body: parsed.output, id, knowsSound })) ?? { done: true };
      },
    });
  };
  const nothing = v.strictObject({});
  const place = v.pipe(v.string(), v.regex(/^\d{1,15}$/), v.transform(Number));
  route('GET /health', v.object({}), async () => (await db.query('select 1'), { protocol: wire.PROTOCOL }));
  route('POST /join', wire.join, ({ body }) => join(db, body, now()));
  route('POST /me', wire.me, ({ caller, body }) => introduce(db, caller, body));
  route('GET /pull', v.strictObject({ after: place, schema: place }), ({ caller, body, knowsSound }) =>
    pull(db, caller, body, knowsSound),
  );
  route('POST /push', wire.push, ({ caller, body }) => push(db, caller, body, now()));
  route('GET /keys', nothing, ({ caller }) => keyRing(db, caller));
  route('POST /keys', wire.newKeys, ({ caller, body }) => newKeys(db, caller, body));
  route('GET /devices', nothing, async ({ caller }) => ({ devices: await listDevices(db, caller) }));
  route('POST /devices/:id/remove', wire.newKeys, ({ caller, id, body }) =>
    removeDevice(db, caller, id, body),
  );
  route('POST /invites', wire.invite, ({ caller, body }) => makeInvite(db, caller, body, now()));
  route('POST /invites/:id/withdraw', nothing, ({ caller, id }) => withdrawInvite(db, caller, id));
  route('POST /students/:id/delete', nothing, ({ caller, id }) => deleteStudent(db, caller, id));
  route('GET /sound', nothing, ({ caller }) => soundState(db, caller, soundBytes));
  route('POST /sound/switch', wire.soundSwitch, ({ caller, body }) =>
    switchSound(db, caller, body.on, { mostBytes: soundBytes, newId }),
  );
  route('POST /sound/held', wire.soundsOf, ({ caller, body }) => heldSound(db, caller, body));
  route('POST /sound', wire.soundPart, ({ caller, body }) => putSound(db, caller, body, soundBytes));
  route('GET /sound/:id', v.strictObject({ student: wire.id, part: place }), ({ caller, id, body }) =>
    getSound(db, caller, id, body),
  );
  route('POST /sound/deleted', wire.deletedSounds, ({ caller, body }) => deleteSounds(db, caller, body));
  return app;
}

const NOBODY: Caller = { studio: '', device: '', role: 'student', student: null };

/** What Fastify itself refuses, in our words. */
function asRefused(error: unknown): Refused {
  if (error instanceof Refused) return error;
  const { statusCode } = error as { statusCode?: unknown };
  if (statusCode === 413) return new Refused('too-big');
  if (statusCode === 429) return new Refused('too-often');
  if (typeof statusCode === 'number' && statusCode >= 400 && statusCode < 500)
    return new Refused('malformed');
  return new Refused('failed');
}
