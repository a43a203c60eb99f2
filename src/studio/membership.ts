import { api, StudioProblem } from './api.ts';
import type { Api, Fetch } from './api.ts';
import { fromBase64Url, newId, randomBytes, toBase64Url, utf8 } from './bytes.ts';
import { decrypt, derive, encrypt } from './cipher.ts';
import { certify, identityOf } from './identity.ts';
import { bare, keysOf, newKey, refreshed, replacing, sealTo, wrap, writingKey } from './keys.ts';
import type { HeldKey, Membership } from './local.ts';
import type { DeviceRow, Role } from './wire.ts';

/** How to get in, as it stands behind `#` of a link or in a code of dots. */
export interface Invitation {
  readonly studio: string;
  readonly invite: string;
  /** 32 random bytes, base64url. The server never sees those of an invitation by a teacher. */
  readonly secret: string;
  /** The operator's link to the very first device. */
  readonly first: boolean;
}
/** An invitation being taken up; kept before the server is asked, so that an answer that is lost loses nothing. */
export interface Joining extends Invitation {
  readonly device: string;
  readonly seed: string;
  /** What the device is called in the list of devices. */
  readonly label: string;
}

const LINK = /^([0-9a-f]{32})\.([0-9a-f]{32})\.([A-Za-z0-9_-]{43})$/;

/** @returns null for what is no invitation */
export function readInvitation(text: string, first: boolean): Invitation | null {
  const [, studio, invite, secret] = LINK.exec(text) ?? [];
  return studio !== undefined && invite !== undefined && secret !== undefined
    ? { studio, invite, secret, first }
    : null;
}
export const writeInvitation = ({ studio, invite, secret }: Invitation): string =>
  `${studio}.${invite}.${secret}`;

export const begin = (invitation: Invitation, label: string): Joining => ({
  ...invitation,
  ...{ device: newId(), seed: toBase64Url(randomBytes(32)), label },
});

/** The interface as a member speaks to it. */
export const apiOf = async (
  fetch: Fetch,
  origin: string,
  { studio, device, seed }: Pick<Membership, 'studio' | 'device' | 'seed'>,
): Promise<Api> =>
  api(fetch, origin, { studio, device, token: (await identityOf(fromBase64Url(seed))).token });

const parcelAs = (studio: string, invite: string): string => JSON.stringify(['parcel', studio, invite]);
const labelAs = (studio: string, device: string): string => JSON.stringify(['label', studio, device]);

/** Takes up an invitation; may be repeated until it succeeds. @throws StudioProblem 'bad-invite' where it was used, or has run out */
export async function join(fetch: Fetch, origin: string, joining: Joining): Promise<Membership> {
  const { studio, device, seed, secret, invite } = joining;
  const identity = await identityOf(fromBase64Url(seed));
  const server = api(fetch, origin, { studio, device, token: identity.token });
  const inviteToken = joining.first
    ? secret
    : toBase64Url(await derive(fromBase64Url(secret), 'invite token'));
  const { token, publicKey } = identity;
  const { role, student, parcel } = await server.join({
    studio,
    invite,
    inviteToken,
    device: { id: device, token, publicKey },
  });
  const nobody: Membership = { studio, device, seed, role, student, keys: [] };
  const keys =
    parcel === null
      ? await firstKeys(server, nobody, publicKey)
      : await opened(fromBase64Url(secret), studio, invite, parcel);
  const own = { ...nobody, keys };
  await introduce(server, own, publicKey, joining.label);
  return own;
}

/** The very first device makes the studio's key, once. */
async function firstKeys(server: Api, own: Membership, publicKey: string): Promise<HeldKey[]> {
  const held = async (): Promise<HeldKey[]> =>
    refreshed(own, await identityOf(fromBase64Url(own.seed)), await server.keys());
  const before = await held();
  if (before.length > 0) return before;
  const key = newKey(own.studio);
  await server.newKeys({
    keys: [bare(key)],
    envelopes: [await sealTo(own.studio, key, own.device, publicKey)],
  });
  return held();
}

async function opened(
  secret: Uint8Array<ArrayBuffer>,
  studio: string,
  invite: string,
  parcel: string,
): Promise<HeldKey[]> {
  try {
    const plain = await decrypt(
      await derive(secret, 'invite key'),
      parcelAs(studio, invite),
      fromBase64Url(parcel),
    );
    return JSON.parse(new TextDecoder().decode(plain)) as HeldKey[];
  } catch (error) {
    throw new StudioProblem('bad-invite', 'the invitation does not open', error);
  }
}

async function introduce(server: Api, own: Membership, publicKey: string, label: string): Promise<void> {
  const { studio, device, role, student } = own;
  const key = writingKey(own, student ?? studio);
  if (key === null) throw new StudioProblem('bad-invite', 'the invitation holds no key');
  await server.introduce({
    label: toBase64Url(await encrypt(key.raw, labelAs(studio, device), utf8(label.slice(0, 60)))),
    certificate: await certify(key, { studio, device, role, student, publicKey }),
  });
}

/** Fetches what keys there are. @returns the membership with them */
export async function withKeys(server: Api, own: Membership): Promise<Membership> {
  const identity = await identityOf(fromBase64Url(own.seed));
  return { ...own, keys: await refreshed(own, identity, await server.keys()) };
}

/** Makes a student's key where there is none. A teacher's device alone can. */
export async function withKeyOf(server: Api, own: Membership, student: string): Promise<Membership> {
  if (writingKey(own, student) !== null) return own;
  const now = await withKeys(server, own);
  if (writingKey(now, student) !== null) return now;
  const by = writingKey(now, now.studio);
  if (by === null || now.role !== 'teacher')
    throw new StudioProblem('unknown-key', 'this device does not hold the key');
  await server.newKeys({ keys: [await wrap(now.studio, by, newKey(student))], envelopes: [] });
  return withKeys(server, now);
}

/**
 * Invites a device: once, for so long.
 * @param student whose it will be; null for a teacher's
 * @returns the invitation, whose secret goes behind `#`, and the membership with the keys as they are by now
 */
export async function invite(
  server: Api,
  own: Membership,
  student: string | null,
  expiresInSec: number,
): Promise<{ readonly invitation: Invitation; readonly own: Membership }> {
  const now = student === null ? await withKeys(server, own) : await withKeyOf(server, own, student);
  const { studio } = now;
  const secret = randomBytes(32);
  const id = newId();
  const scope = student ?? studio;
  const keys = now.keys.filter((key) => key.scope === scope);
  const parcel = await encrypt(
    await derive(secret, 'invite key'),
    parcelAs(studio, id),
    utf8(JSON.stringify(keys)),
  );
  const role: Role = student === null ? 'teacher' : 'student';
  await server.invite({
    ...{ id, role, student, expiresInSec, parcel: toBase64Url(parcel) },
    token: toBase64Url(await derive(secret, 'invite token')),
  });
  return { invitation: { studio, invite: id, secret: toBase64Url(secret), first: false }, own: now };
}

/** A device as the list shows it. */
export interface ListedDevice extends Omit<DeviceRow, 'label'> {
  /** Null where it cannot be read. */
  readonly label: string | null;
}

export async function listed(server: Api, own: Membership): Promise<ListedDevice[]> {
  const rows = await server.devices();
  return Promise.all(rows.map(async (row) => ({ ...row, label: await labelOf(own, row) })));
}

async function labelOf(own: Membership, { id, student, label }: DeviceRow): Promise<string | null> {
  if (label === null) return null;
  for (const { raw } of keysOf(own, student ?? own.studio).reverse())
    try {
      return new TextDecoder().decode(await decrypt(raw, labelAs(own.studio, id), fromBase64Url(label)));
    } catch {
      // Another key's: the next one is tried.
    }
  return null;
}

/** How often a removal looks again where devices came or went meanwhile. */
const TRIES = 4;

/** Removes a device; whatever it held has a new key from then on. @returns the membership with the new keys */
export async function removeDevice(server: Api, own: Membership, id: string): Promise<Membership> {
  for (let left = TRIES; ; left--) {
    const now = await withKeys(server, own);
    const rows = await server.devices();
    const removed = rows.find((row) => row.id === id);
    if (removed === undefined) return now;
    const staying = rows.filter((row) => row.id !== id);
    try {
      await server.remove(id, await replacing(now, removed, staying));
      return await withKeys(server, now);
    } catch (error) {
      if (!(error instanceof StudioProblem) || error.code !== 'devices-changed' || left <= 1) throw error;
    }
  }
}

/** What stands on the recovery sheet: a teacher's device on paper. */
export interface Recovery {
  readonly studio: string;
  readonly device: string;
  readonly seed: string;
}
export const writeRecovery = ({ studio, device, seed }: Recovery): string => `${studio}.${device}.${seed}`;
export function readRecovery(text: string): Recovery | null {
  const [, studio, device, seed] = LINK.exec(text.replace(/\s+/g, '')) ?? [];
  return studio !== undefined && device !== undefined && seed !== undefined ? { studio, device, seed } : null;
}

/**
 * Makes the sheet: it joins like a machine, gets every new key like one, and can be removed like one. As paper keeps
 * nothing but its seed, the keys so far are sealed to it.
 */
export async function makeRecovery(
  fetch: Fetch,
  origin: string,
  own: Membership,
  label: string,
): Promise<Recovery> {
  const { invitation } = await invite(await apiOf(fetch, origin, own), own, null, 600);
  const paper = await join(fetch, origin, begin(invitation, label));
  const { studio, device, seed } = paper;
  const { publicKey } = await identityOf(fromBase64Url(seed));
  const envelopes = await Promise.all(
    keysOf(paper, studio).map((key) => sealTo(studio, key, device, publicKey)),
  );
  await (await apiOf(fetch, origin, paper)).newKeys({ keys: [], envelopes });
  return { studio, device, seed };
}

/** Gets in by the sheet: a new device of its own, invited by the one on paper, which stays good. */
export async function recover(
  fetch: Fetch,
  origin: string,
  sheet: Recovery,
  label: string,
): Promise<Membership> {
  const paper: Membership = { ...sheet, role: 'teacher', student: null, keys: [] };
  const server = await apiOf(fetch, origin, paper);
  const { invitation } = await invite(server, await withKeys(server, paper), null, 600);
  return join(fetch, origin, begin(invitation, label));
}
