import { fromBase64Url, newId, randomBytes, toBase64Url } from './bytes.ts';
import type { Bytes } from './bytes.ts';
import { decrypt, encrypt } from './cipher.ts';
import { isCertified, seal } from './identity.ts';
import type { Identity } from './identity.ts';
import type { HeldKey, Membership } from './local.ts';
import type { DeviceRow, Envelope, KeyRing, NewKeys, WrappedKey } from './wire.ts';

/** A key in hand. */
export interface Key {
  readonly id: string;
  readonly scope: string;
  readonly raw: Bytes;
}

const inHand = ({ id, scope, raw }: HeldKey): Key => ({ id, scope, raw: fromBase64Url(raw) });
const sealedAs = (studio: string, id: string, scope: string): string =>
  JSON.stringify(['key', studio, scope, id]);
const wrappedAs = (studio: string, id: string, scope: string, by: string): string =>
  JSON.stringify(['wrapped', studio, scope, id, by]);

export const newKey = (scope: string): Key => ({ id: newId(), scope, raw: randomBytes(32) });

export const keyById = ({ keys }: Membership, id: string): Key | null => {
  const found = keys.find((key) => key.id === id);
  return found ? inHand(found) : null;
};

export const keysOf = ({ keys }: Membership, scope: string): Key[] =>
  keys.filter((key) => key.scope === scope).map(inHand);

/** The key to write with; null where there is none yet. */
export const writingKey = ({ keys }: Membership, scope: string): Key | null => {
  const found = keys.findLast((key) => key.scope === scope && !key.retired);
  return found ? inHand(found) : null;
};

/** A student's key as the server keeps it, under the studio's. */
export async function wrap(studio: string, by: Key, { id, scope, raw }: Key): Promise<WrappedKey> {
  const wrapped = await encrypt(by.raw, wrappedAs(studio, id, scope, by.id), raw);
  return { id, scope, wrappedBy: by.id, wrapped: toBase64Url(wrapped) };
}

/** The studio's own key as the server keeps it: not at all. */
export const bare = ({ id, scope }: Key): WrappedKey => ({ id, scope, wrappedBy: null, wrapped: null });

export const sealTo = async (
  studio: string,
  { id, scope, raw }: Key,
  device: string,
  publicKey: string,
): Promise<Envelope> => ({
  ...{ keyId: id, device },
  sealed: await seal(publicKey, sealedAs(studio, id, scope), raw),
});

/** What cannot be opened, or was never ours to open, is passed over: no server may hold a device up with it. */
const orNull = async <T>(job: Promise<T>): Promise<T | null> => job.catch(() => null);

/**
 * All keys that a device holds by now, in the server's order. A key that was retired stays so, whatever the server says
 * later.
 */
export async function refreshed(own: Membership, identity: Identity, ring: KeyRing): Promise<HeldKey[]> {
  const { studio } = own;
  const raws = new Map(own.keys.map((key) => [key.id, inHand(key).raw]));
  const scopes = new Map(ring.keys.map(({ id, scope }) => [id, scope]));
  for (const { keyId, sealed } of ring.envelopes) {
    const scope = scopes.get(keyId);
    if (scope === undefined || raws.has(keyId)) continue;
    const raw = await orNull(identity.open(sealed, sealedAs(studio, keyId, scope)));
    if (raw?.length === 32) raws.set(keyId, raw as Bytes);
  }
  for (const { id, scope, wrapped, wrappedBy } of ring.keys) {
    const by = wrappedBy === null ? undefined : raws.get(wrappedBy);
    if (raws.has(id) || wrapped === null || wrappedBy === null || by === undefined) continue;
    const raw = await orNull(decrypt(by, wrappedAs(studio, id, scope, wrappedBy), fromBase64Url(wrapped)));
    if (raw?.length === 32) raws.set(id, raw);
  }
  const before = new Map(own.keys.map((key) => [key.id, key]));
  const there = ring.keys.flatMap(({ id, scope, retired }): HeldKey[] => {
    const raw = raws.get(id);
    if (raw === undefined) return [];
    const known = before.get(id);
    return [
      {
        id,
        scope: known?.scope ?? scope,
        raw: toBase64Url(raw),
        retired: retired || known?.retired === true,
      },
    ];
  });
  // Keys of a student who was deleted go with them.
  return there;
}

/**
 * New keys for whatever a device held, sealed to every device that stays.
 * @param staying every other device of the studio
 */
export async function replacing(
  own: Membership,
  removed: DeviceRow,
  staying: readonly DeviceRow[],
): Promise<NewKeys> {
  const { studio } = own;
  const all = [...new Set(own.keys.map(({ scope }) => scope))];
  const scopes =
    removed.student === null ? [studio, ...all.filter((scope) => scope !== studio)] : [removed.student];
  const made = scopes.map(newKey);
  const studioKey = made.find(({ scope }) => scope === studio) ?? writingKey(own, studio);
  if (studioKey === null) throw new Error('this device does not hold the studio’s key');
  const keys = await Promise.all(
    made.map((key) => (key.scope === studio ? bare(key) : wrap(studio, studioKey, key))),
  );
  const envelopes: Envelope[] = [];
  for (const key of made)
    for (const device of staying) {
      if (device.certificate === null) continue;
      if (key.scope === studio ? device.role !== 'teacher' : device.student !== key.scope) continue;
      const { id, role, student, publicKey } = device;
      const claim = { studio, device: id, role, student, publicKey };
      // A device that cannot prove that it ever held a key gets an envelope that holds nothing.
      const proven = await isCertified(device.certificate, keysOf(own, key.scope), claim);
      envelopes.push(
        proven
          ? await sealTo(studio, key, id, publicKey)
          : { keyId: key.id, device: id, sealed: toBase64Url(randomBytes(113)) },
      );
    }
  return { keys, envelopes };
}
