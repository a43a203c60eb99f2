import { Aes256Gcm, CipherSuite, DhkemP256HkdfSha256, HkdfSha256 } from '@hpke/core';
import { fromBase64Url, toBase64Url, utf8 } from './bytes.ts';
import type { Bytes } from './bytes.ts';
import { authenticate, derive } from './cipher.ts';

/**
 * HPKE (RFC 9180), base mode. P-256 and not X25519: WebCrypto has X25519 in Chrome from 133, Firefox 130 and Safari 17
 * only, which are younger than what the app runs in.
 */
const suite = new CipherSuite({
  kem: new DhkemP256HkdfSha256(),
  kdf: new HkdfSha256(),
  aead: new Aes256Gcm(),
});

/** What a device is to the server and to other devices; all of it follows from 32 random bytes. */
export interface Identity {
  /** What the server knows it by, base64url. */
  readonly token: string;
  /** What keys are sealed to, base64url. */
  readonly publicKey: string;
  /** Opens what was sealed to it. @throws Error for what was not */
  readonly open: (sealed: string, about: string) => Promise<Bytes>;
}

export async function identityOf(seed: Bytes): Promise<Identity> {
  const pair = await suite.kem.deriveKeyPair((await derive(seed, 'hpke')).buffer);
  return {
    token: toBase64Url(await derive(seed, 'token')),
    publicKey: toBase64Url(new Uint8Array(await suite.kem.serializePublicKey(pair.publicKey))),
    async open(sealed, about) {
      const whole = fromBase64Url(sealed);
      const context = {
        recipientKey: pair.privateKey,
        enc: whole.slice(0, ENC).buffer,
        info: utf8(about).buffer,
      };
      return new Uint8Array(await suite.open(context, whole.slice(ENC).buffer));
    },
  };
}

/** Bytes of the encapsulated key before the ciphertext: an uncompressed point of P-256 (RFC 9180, section 7.1). */
const ENC = 65;

/** Seals a key to a device. */
export async function seal(publicKey: string, about: string, key: Bytes): Promise<string> {
  const recipientPublicKey = await suite.kem.deserializePublicKey(fromBase64Url(publicKey).buffer);
  const { enc, ct } = await suite.seal({ recipientPublicKey, info: utf8(about).buffer }, key.buffer);
  const whole = new Uint8Array(ENC + ct.byteLength);
  whole.set(new Uint8Array(enc));
  whole.set(new Uint8Array(ct), ENC);
  return toBase64Url(whole);
}

/** Who a device says it is. */
export interface Claim {
  readonly studio: string;
  readonly device: string;
  readonly role: string;
  readonly student: string | null;
  readonly publicKey: string;
}

/**
 * The proof that a device holds a key of its scope: without it a server could slip in a device of its own, and be sent
 * the next keys.
 */
export async function certify(
  key: { readonly id: string; readonly raw: Bytes },
  claim: Claim,
): Promise<string> {
  const { studio, device, role, student, publicKey } = claim;
  const text = JSON.stringify([studio, device, role, student, publicKey]);
  return (
    toBase64Url(utf8(key.id)) + toBase64Url(await authenticate(await derive(key.raw, 'certificate'), text))
  );
}

/** Whether a certificate was made with one of these keys. */
export async function isCertified(
  certificate: string | null,
  keys: readonly { readonly id: string; readonly raw: Bytes }[],
  claim: Claim,
): Promise<boolean> {
  for (const key of keys) if ((await certify(key, claim)) === certificate) return true;
  return false;
}
