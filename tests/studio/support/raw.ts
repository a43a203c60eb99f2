import type { FastifyInstance } from 'fastify';
import { API, PROTOCOL } from '../../../src/studio/wire.ts';
import { identityOf } from '../../../src/studio/identity.ts';
import { fromBase64Url } from '../../../src/studio/bytes.ts';
import type { Membership } from '../../../src/studio/index.ts';

/** The header that proves who asks. */
export async function bearerOf({ studio, device, seed }: Membership): Promise<string> {
  return `Bearer ${studio}.${device}.${(await identityOf(fromBase64Url(seed))).token}`;
}

export interface Answer {
  readonly status: number;
  readonly json: any;
  readonly headers: Record<string, unknown>;
}

/** A request as anybody can make it, past all of our own client. */
export async function ask(
  app: FastifyInstance,
  method: string,
  path: string,
  bearer: string | null,
  body?: unknown,
  headers: Record<string, string> = {},
): Promise<Answer> {
  const answer = await app.inject({
    method: method as 'GET',
    url: API + path,
    headers: {
      ...(bearer === null ? {} : { authorization: bearer }),
      'x-studio-protocol': String(PROTOCOL),
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      ...headers,
    },
    ...(body === undefined ? {} : { payload: typeof body === 'string' ? body : JSON.stringify(body) }),
  });
  let json: unknown = null;
  try {
    json = JSON.parse(answer.body);
  } catch {
    // What is no JSON is shown as null.
  }
  return { status: answer.statusCode, json, headers: answer.headers };
}
