import { randomBytes } from 'node:crypto';
import { hashOf } from './caller.ts';
import type { Database } from './database/sql.ts';

/** How long the link to the first machine holds. */
const HOLDS_MS = 7 * 86_400_000;
export const newId = (): string => randomBytes(16).toString('hex');

/**
 * A new studio, and what goes behind `#` of the link that makes its first teacher's machine: once, for a week.
 * @returns `studio.invite.secret`
 */
export async function newStudio(db: Database, nowMs: number): Promise<string> {
  const [studio, invite, token] = [newId(), newId(), randomBytes(32).toString('base64url')];
  await db.transaction(async (sql) => {
    const at = new Date(nowMs);
    await sql.query('insert into studios (id, era, created_at) values ($1, $2, $3)', [studio, newId(), at]);
    await sql.query(
      `insert into invites (studio, id, role, token_hash, expires_at) values ($1, $2, 'teacher', $3, $4)`,
      [studio, invite, hashOf(token), new Date(nowMs + HOLDS_MS)],
    );
  });
  return `${studio}.${invite}.${token}`;
}

/** Whether any studio has a device: until one has, each start prints a link. */
export const hasStudio = async (db: Database): Promise<boolean> =>
  (await db.query('select 1 from devices limit 1')).length > 0;
