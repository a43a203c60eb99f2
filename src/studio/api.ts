import * as v from 'valibot';
import {
  API,
  devices,
  joined,
  keyRing,
  KNOWS_SOUND,
  page,
  PROTOCOL,
  refusal,
  soundHeld,
  soundPart,
  soundState,
} from './wire.ts';
import type {
  DeletedSounds,
  DeviceRow,
  Invite,
  Join,
  Joined,
  KeyRing,
  NewKeys,
  Page,
  Push,
  RefusalCode,
  SoundHeld,
  SoundPart,
  SoundsOf,
  SoundState,
} from './wire.ts';

/** As `fetch`: handed in, so that tests can cut it. */
export type Fetch = (url: string, init: RequestInit) => Promise<Response>;

/** Why the studio could not be asked: `offline` for everything that the network does. */
export type StudioProblemCode = RefusalCode | 'offline';

export class StudioProblem extends Error {
  readonly code: StudioProblemCode;
  constructor(code: StudioProblemCode, message: string, cause?: unknown) {
    super(message, { cause });
    this.name = 'StudioProblem';
    this.code = code;
  }
}

/** How long an answer may take, ms; a first pull of a page of 1 MB over a slow phone's line. */
const PATIENCE_MS = 60_000;

/** The server's interface. Every call may be repeated: what was done before is not done twice. */
export interface Api {
  join(given: Join): Promise<Joined>;
  introduce(given: { readonly label: string; readonly certificate: string }): Promise<void>;
  push(given: Push): Promise<void>;
  pull(after: number, schema: number): Promise<Page>;
  keys(): Promise<KeyRing>;
  newKeys(given: NewKeys): Promise<void>;
  devices(): Promise<DeviceRow[]>;
  remove(id: string, given: NewKeys): Promise<void>;
  invite(given: Invite): Promise<void>;
  withdraw(id: string): Promise<void>;
  deleteStudent(id: string): Promise<void>;
  /** Of the sound of takes: 'not-found' from a server that is older, or where it is off. */
  soundState(): Promise<SoundState>;
  switchSound(on: boolean): Promise<void>;
  heldSound(given: SoundsOf): Promise<SoundHeld['held']>;
  putSound(given: SoundPart): Promise<void>;
  getSound(student: string, attempt: string, part: number): Promise<SoundPart>;
  deleteSounds(given: DeletedSounds['sounds']): Promise<void>;
}

export interface Bearer {
  readonly studio: string;
  readonly device: string;
  readonly token: string;
}

/**
 * @param origin of the server; empty for the page's own
 * @throws StudioProblem from every call
 */
export function api(fetch: Fetch, origin: string, bearer: Bearer): Api {
  const ask = async <T>(
    method: 'GET' | 'POST',
    path: string,
    answer: v.GenericSchema<unknown, T>,
    body?: unknown,
  ): Promise<T> => {
    let response: Response;
    let json: unknown;
    try {
      response = await fetch(origin + API + path, {
        method,
        headers: {
          Authorization: `Bearer ${bearer.studio}.${bearer.device}.${bearer.token}`,
          'X-Studio-Protocol': String(PROTOCOL),
          'X-Studio-Knows': KNOWS_SOUND,
          ...(method === 'POST' ? { 'Content-Type': 'application/json' } : {}),
        },
        ...(method === 'POST' ? { body: JSON.stringify(body ?? {}) } : {}),
        // Nothing of another site goes along, and no answer of the interface is taken from a store.
        ...{ credentials: 'omit', cache: 'no-store', redirect: 'error', referrerPolicy: 'no-referrer' },
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
      json = await response.json();
    } catch (error) {
      throw new StudioProblem('offline', 'the studio does not answer', error);
    }
    if (!response.ok) {
      const said = v.safeParse(refusal, json);
      // What is not of the studio's own words comes from something in between: as good as no answer.
      if (!said.success) throw new StudioProblem('offline', `answer ${response.status}`);
      throw new StudioProblem(said.output.code, said.output.sentence);
    }
    const parsed = v.safeParse(answer, json);
    if (!parsed.success) throw new StudioProblem('offline', 'the answer is not the studio’s');
    return parsed.output;
  };
  const done = v.pipe(
    v.object({}),
    v.transform(() => undefined),
  );
  return {
    join: (given) => ask('POST', '/join', joined, given),
    introduce: (given) => ask('POST', '/me', done, given),
    push: (given) => ask('POST', '/push', done, given),
    pull: (after, schema) => ask('GET', `/pull?after=${after}&schema=${schema}`, page),
    keys: () => ask('GET', '/keys', keyRing),
    newKeys: (given) => ask('POST', '/keys', done, given),
    devices: async () => (await ask('GET', '/devices', devices)).devices,
    remove: (id, given) => ask('POST', `/devices/${id}/remove`, done, given),
    invite: (given) => ask('POST', '/invites', done, given),
    withdraw: (id) => ask('POST', `/invites/${id}/withdraw`, done),
    deleteStudent: (id) => ask('POST', `/students/${id}/delete`, done),
    soundState: () => ask('GET', '/sound', soundState),
    switchSound: (on) => ask('POST', '/sound/switch', done, { on }),
    heldSound: async (given) => (await ask('POST', '/sound/held', soundHeld, given)).held,
    putSound: (given) => ask('POST', '/sound', done, given),
    getSound: (student, attempt, part) =>
      ask('GET', `/sound/${attempt}?student=${student}&part=${part}`, soundPart),
    deleteSounds: (sounds) => ask('POST', '/sound/deleted', done, { sounds }),
  };
}
