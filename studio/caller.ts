import { createHash, timingSafeEqual } from 'node:crypto';
import type { Sql } from './database/sql.ts';
import type { Role } from '../src/studio/wire.ts';
import { Refused } from './refused.ts';

/** Who asks, as their token proves. */
export interface Caller {
  readonly studio: string;
  readonly device: string;
  readonly role: Role;
  /** Whose device it is; null for a teacher's. */
  readonly student: string | null;
}

/** SHA-256 as hex. Tokens are 256 random bits: a slow hash would protect nothing more. */
export const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Compares in a time that does not depend on where two hashes differ. */
export const sameHash = (a: string, b: string): boolean =>
  timingSafeEqual(Buffer.from(a, 'hex'), Buffer.from(b, 'hex'));

/** Stands for the token of a device that is not there, so that both take the same steps. */
const NOBODYS = hashOf('');
const BEARER = /^Bearer ([0-9a-f]{32})\.([0-9a-f]{32})\.([A-Za-z0-9_-]{43})$/;

/**
 * The caller by the header `Authorization: Bearer studio.device.token`.
 * @throws Refused 'unknown-device'; 'student-gone' for the device of a student who was deleted
 */
export async function callerOf(sql: Sql, header: string | undefined, nowMs: number): Promise<Caller> {
  const [, studio, device, token] = BEARER.exec(header ?? '') ?? [];
  if (studio === undefined || device === undefined || token === undefined)
    throw new Refused('unknown-device');
  const [row] = await sql.query<{ role: Role; student: string | null; token_hash: string; last_seen: Date }>(
    'select role, student, token_hash, last_seen from devices where studio = $1 and id = $2',
    [studio, device],
  );
  const hash = hashOf(token);
  if (!sameHash(row?.token_hash ?? NOBODYS, hash) || row === undefined) {
    const gone = await sql.query('select 1 from gone where studio = $1 and id = $2', [studio, hash]);
    throw new Refused(gone.length > 0 ? 'student-gone' : 'unknown-device');
  }
  // To the hour: who practises when is nobody's business.
  const hour = new Date(Math.floor(nowMs / 3_600_000) * 3_600_000);
  if (row.last_seen < hour)
    await sql.query('update devices set last_seen = $3 where studio = $1 and id = $2', [
      studio,
      device,
      hour,
    ]);
  return { studio, device, role: row.role, student: row.student };
}
