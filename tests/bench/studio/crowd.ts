import { performance } from 'node:perf_hooks';
import { setTimeout as pause } from 'node:timers/promises';
import { SCHEMA_VERSION } from '../../../src/store/schema/migrations.ts';
import { newId, randomBytes, toBase64Url } from '../../../src/studio/bytes.ts';
import { apiOf, begin, invite, join, readInvitation } from '../../../src/studio/index.ts';
import type { Membership } from '../../../src/studio/index.ts';
import type { SentItem } from '../../../src/studio/wire.ts';
import type { Event, Kind } from './week.ts';

/** Bytes of a packed and encrypted take; what else is written is no larger. The server cannot tell them from real ones. */
const ROW_BYTES = 1800;

/** A device of the bench: it pushes and pulls, and keeps no record. */
export interface Machine {
  readonly kind: Kind;
  readonly member: Membership;
  readonly api: Awaited<ReturnType<typeof apiOf>>;
  cursor: number;
}

/** Every device from an address of its own, as a reverse proxy tells it: limits of rate hold for each. */
const from =
  (url: string, address: string) =>
  (path: string, init: RequestInit): Promise<Response> =>
    fetch(url + path, { ...init, headers: { ...(init.headers as object), 'X-Forwarded-For': address } });

export const KINDS: readonly Kind[] = ['desk', 'desk', 'phone', 'phone', 'phone'];

/** The machines of one studio. @param link to its first; `n` of how many studios, for its addresses */
export async function studioOf(url: string, link: string, n: number): Promise<Machine[]> {
  const machines: Machine[] = [];
  for (const [i, kind] of KINDS.entries()) {
    const fetch = from(url, `10.${n >> 8}.${n & 255}.${i + 1}`);
    const first = machines[0];
    const invitation = first
      ? (await invite(first.api, first.member, kind === 'phone' ? newId() : null, 600)).invitation
      : readInvitation(link, true)!;
    const member = await join(fetch, '', begin(invitation, kind));
    machines.push({ kind, member, api: await apiOf(fetch, '', member), cursor: 0 });
  }
  return machines;
}

/** A row where a machine of its kind may write. */
function rowFor({ kind, member: { studio, student, keys } }: Machine): SentItem {
  const place = kind === 'desk' ? ({ scope: studio, lane: 'desk' } as const) : null;
  const own = place ?? ({ scope: student!, lane: 'shared' } as const);
  return { id: newId(), ...own, keyId: keys[0]!.id, body: toBase64Url(randomBytes(ROW_BYTES)) };
}

export async function push(machine: Machine, rows = 1): Promise<void> {
  const items = Array.from({ length: rows }, () => rowFor(machine));
  await machine.api.push({ schema: SCHEMA_VERSION, items, drop: [] });
}
/** What came after the cursor, all pages of it. */
export async function pull(machine: Machine): Promise<void> {
  for (let more = true; more;) {
    const page = await machine.api.pull(machine.cursor, SCHEMA_VERSION);
    machine.cursor = Math.max(machine.cursor, page.next);
    ({ more } = page);
  }
}

/** Milliseconds from when each was due until it was answered: a queue before the server counts. */
export interface Times {
  readonly push: number[];
  readonly pull: number[];
  readonly seconds: number;
  /** Requests that were refused or not answered; they are not done again. */
  readonly failed: number;
}

/** Lets events happen, so many hours of theirs in a second. */
export async function live(
  machines: readonly Machine[],
  events: readonly Event[],
  hoursASecond: number,
): Promise<Times> {
  const times = { push: [] as number[], pull: [] as number[] };
  let failed = 0;
  const begun = performance.now();
  const running: Promise<void>[] = [];
  for (const { atHour, device, what } of events) {
    const due = begun + (atHour / hoursASecond) * 1000;
    const wait = due - performance.now();
    if (wait > 1) await pause(wait);
    const machine = machines[device]!;
    running.push(
      (what === 'push' ? push(machine) : pull(machine)).then(
        () => void times[what].push(performance.now() - due),
        () => void (failed += 1),
      ),
    );
  }
  await Promise.all(running);
  return { ...times, seconds: (performance.now() - begun) / 1000, failed };
}

/** So many pushes a second for so many seconds, the machines in turn; every tenth pulls too. */
export const steady = (count: number, rate: number, seconds: number): Event[] =>
  Array.from({ length: rate * seconds }, (_, n): Event[] => {
    const event = { atHour: n / rate, device: n % count };
    return [{ ...event, what: 'push' }, ...(n % 10 === 0 ? [{ ...event, what: 'pull' } as const] : [])];
  }).flat();

/** The value below which this share of the values lies. */
export const at = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
};
