import { StudioProblem } from './api.ts';
import type { Api } from './api.ts';
import { fromBase64Url, inOne, toBase64Url, utf8 } from './bytes.ts';
import type { Bytes } from './bytes.ts';
import { decrypt, encrypt } from './cipher.ts';
import { keyById, writingKey } from './keys.ts';
import type { Key } from './keys.ts';
import type { Change, Membership } from './local.ts';
import { withKeys } from './membership.ts';
import { LIMITS } from './wire.ts';
import type { SoundPart } from './wire.ts';

/** The sound of a take. */
export interface Sound {
  /** What its encoder says it is, at most 200 signs. */
  readonly mime: string;
  readonly bytes: Bytes;
}
/** One that a machine keeps. */
export interface OwnSound extends Sound {
  readonly attemptId: string;
  readonly studentId: string;
  /** Place of its attempt. */
  readonly order: number;
}

/** What a machine keeps of sound, as far as the studio has to do with it; `store/sync` is the real one. */
export interface LocalSounds {
  /**
   * The oldest that is not sent yet, of those that were kept since this machine learned that the studio takes sound.
   * @param period which the studio told; a new one begins anew
   */
  next(period: string): Promise<OwnSound | null>;
  /** This one is there, or never goes there. */
  done(period: string, order: number): Promise<void>;
}

/** Bytes after which a round ends, so that rows do not wait for long. */
const ROUND_BYTES = 4_000_000;
/** How often keys are fetched anew for one sound. */
const TRIES = 3;

/** What binds a part to its place: nowhere else, and in no other company, does it open. */
const about = (studio: string, { student, attempt, keyId, part, parts }: Omit<SoundPart, 'body'>): string =>
  JSON.stringify(['sound', studio, student, attempt, keyId, part, parts]);

/** What its encoder says, a zero, and the bytes, cut into parts. */
function cut({ mime, bytes }: Sound): Bytes[] {
  const whole = inOne([utf8(`${mime}\0`), bytes]);
  const parts: Bytes[] = [];
  for (let at = 0; at < whole.length; at += LIMITS.soundPartBytes)
    parts.push(whole.slice(at, at + LIMITS.soundPartBytes));
  return parts;
}
function joinedAgain(parts: readonly Bytes[]): Sound {
  const whole = inOne(parts);
  const head = whole.indexOf(0);
  if (head < 0 || head > 200) throw new Error('no sound of a take');
  return { mime: new TextDecoder().decode(whole.slice(0, head)), bytes: whole.slice(head + 1) };
}

export interface SoundEdges {
  readonly api: Api;
  readonly sounds: LocalSounds;
  /** Keys that were fetched are kept at once. */
  readonly keep: (own: Membership) => Promise<void>;
  /** Asked before each request: false ends it there (a test begins); the next time goes on with what is missing. */
  readonly mayGo?: () => boolean;
}

/**
 * Sends the sound that this machine keeps of takes, the oldest first, each part that the server does not have yet.
 * @param period as the last pull told it; null: the studio takes none, and nothing is sent
 * @returns how many takes are wholly there now, and whether more waits
 * @throws StudioProblem; what was sent until then holds
 */
export async function sendSounds(
  member: Membership,
  period: string | null,
  { api, sounds, keep, mayGo = () => true }: SoundEdges,
): Promise<{ readonly sent: number; readonly more: boolean }> {
  let [own, sent, bytes] = [member, 0, 0];
  if (period === null) return { sent, more: false };
  for (let tries = TRIES; ;) {
    if (!mayGo() || bytes >= ROUND_BYTES) return { sent, more: true };
    const one = await sounds.next(period);
    if (one === null) return { sent, more: false };
    const ours = own.role === 'teacher' || one.studentId === own.student;
    const key = writingKey(own, one.studentId);
    const parts = cut(one);
    // What has no key has no rows there either: its student is not of the studio.
    if (!ours || key === null || parts.length > LIMITS.soundParts) {
      await sounds.done(period, one.order);
      continue;
    }
    try {
      const missing = await missingOf(api, one, parts.length);
      for (const part of missing) {
        if (!mayGo()) return { sent, more: true };
        await api.putSound(await sealed(own.studio, key, one, { part, parts }));
        bytes += parts[part]!.length;
      }
      await sounds.done(period, one.order);
      if (missing.length > 0) sent += 1;
      tries = TRIES;
    } catch (error) {
      if (!(error instanceof StudioProblem)) throw error;
      // Turned off meanwhile.
      if (error.code === 'not-found') return { sent, more: false };
      // Larger than all that the studio may hold, or of a student whose end the next pull tells.
      if (error.code === 'full' || (error.code === 'student-gone' && own.role === 'teacher'))
        await sounds.done(period, one.order);
      else if ((error.code === 'old-key' || error.code === 'unknown-key') && --tries > 0)
        await keep((own = await withKeys(api, own)));
      else throw error;
    }
  }
}

/** Which parts are to be sent; none of an attempt that was deleted. */
async function missingOf(
  api: Api,
  { studentId, attemptId }: Pick<OwnSound, 'studentId' | 'attemptId'>,
  parts: number,
): Promise<number[]> {
  const [held] = await api.heldSound({ student: studentId, attempts: [attemptId] });
  if (held?.gone) return [];
  return Array.from({ length: parts }, (_, part) => part).filter((part) => !held?.here.includes(part));
}

async function sealed(
  studio: string,
  key: Key,
  { studentId: student, attemptId: attempt }: Pick<OwnSound, 'studentId' | 'attemptId'>,
  { part, parts }: { readonly part: number; readonly parts: readonly Bytes[] },
): Promise<SoundPart> {
  const place = { student, attempt, keyId: key.id, part, parts: parts.length };
  return { ...place, body: toBase64Url(await encrypt(key.raw, about(studio, place), parts[part]!)) };
}

/** Whether the whole sound of an attempt lies in the studio. */
export async function hasSound(api: Api, student: string, attempt: string): Promise<boolean> {
  try {
    const [held] = await api.heldSound({ student, attempts: [attempt] });
    return held !== undefined && !held.gone && held.here.length === held.parts;
  } catch (error) {
    if (error instanceof StudioProblem && error.code === 'not-found') return false;
    throw error;
  }
}

/**
 * Fetches the sound of an attempt, to be heard here.
 * @returns null where none is there (any more)
 * @throws StudioProblem; Error for what does not open or was changed
 */
export async function fetchSound(
  api: Api,
  member: Membership,
  student: string,
  attempt: string,
): Promise<Sound | null> {
  let own = member;
  const opened: Bytes[] = [];
  try {
    for (let parts = 1; opened.length < parts;) {
      const part = opened.length;
      const got = await api.getSound(student, attempt, part);
      parts = got.parts;
      if (keyById(own, got.keyId) === null) own = await withKeys(api, own);
      const key = keyById(own, got.keyId);
      if (key?.scope !== student) throw new Error('a sound under a key that is not its student’s');
      // Bound to what was asked for, whatever the server says that it has given.
      const place = { student, attempt, keyId: got.keyId, part, parts };
      opened.push(await decrypt(key.raw, about(own.studio, place), fromBase64Url(got.body)));
    }
  } catch (error) {
    if (error instanceof StudioProblem && error.code === 'not-found') return null;
    throw error;
  }
  return joinedAgain(opened);
}

/**
 * Lets the sound in the studio follow what a desk did with its attempts: deleted with them, or moved under the key of
 * the student to whom they were moved.
 */
export async function followChanges(
  api: Api,
  own: Membership,
  changes: readonly Pick<Change, 'table' | 'key' | 'scope' | 'sent' | 'awayFrom' | 'row'>[],
): Promise<void> {
  const takes = changes.filter(({ table }) => table === 'attempts');
  const deleted = takes.flatMap(({ key: attempt, scope, sent, awayFrom, row }) => [
    ...(row === null && !sent ? [{ student: scope, attempt, ended: true }] : []),
    ...awayFrom.map((one) => ({ student: one.scope, attempt, ended: row === null })),
  ]);
  if (deleted.length === 0) return;
  try {
    for (const { key, scope, awayFrom, row } of takes)
      if (row !== null)
        for (const from of awayFrom) await move(api, own, key, { from: from.scope, to: scope });
    for (let at = 0; at < deleted.length; at += LIMITS.sounds)
      await api.deleteSounds(deleted.slice(at, at + LIMITS.sounds));
  } catch (error) {
    // Turned off meanwhile: then all of it is gone.
    if (!(error instanceof StudioProblem) || error.code !== 'not-found') throw error;
  }
}

async function move(
  api: Api,
  own: Membership,
  attemptId: string,
  { from, to }: { readonly from: string; readonly to: string },
): Promise<void> {
  const key = writingKey(own, to);
  // What does not open can be moved by nobody.
  const sound = await fetchSound(api, own, from, attemptId).catch((error: unknown) => {
    if (error instanceof StudioProblem) throw error;
    return null;
  });
  if (sound === null || key === null) return;
  const parts = cut(sound);
  const one = { studentId: to, attemptId };
  for (const part of await missingOf(api, one, parts.length))
    await api.putSound(await sealed(own.studio, key, one, { part, parts }));
}
