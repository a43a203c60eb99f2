import { randomBytes, utf8 } from './bytes.ts';
import type { Bytes } from './bytes.ts';

/**
 * AES-256-GCM (NIST SP 800-38D) by WebCrypto: version byte, 96 random bits, ciphertext with its 128-bit tag. With random
 * nonces a key is good for 2^32 rows (section 8.3); a student plays some 10^5 takes in a life.
 */
const VERSION = 1;
const NONCE = 12;

/** Keys in use: a page of five hundred rows would hand over the same one as often. */
const imported = new WeakMap<Bytes, Promise<CryptoKey>>();
function keyOf(raw: Bytes): Promise<CryptoKey> {
  const before = imported.get(raw);
  if (before) return before;
  const key = crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
  imported.set(raw, key);
  return key;
}

/** @param about what these bytes are and where they belong: they open only there */
export async function encrypt(raw: Bytes, about: string, plain: Bytes): Promise<Bytes> {
  const nonce = randomBytes(NONCE);
  const sealed = await crypto.subtle.encrypt(
    { name: 'AES-GCM', iv: nonce, additionalData: utf8(about) },
    await keyOf(raw),
    plain,
  );
  const whole = new Uint8Array(1 + NONCE + sealed.byteLength);
  whole[0] = VERSION;
  whole.set(nonce, 1);
  whole.set(new Uint8Array(sealed), 1 + NONCE);
  return whole;
}

/** @throws Error for another key, another place, or a single bit that differs */
export async function decrypt(raw: Bytes, about: string, sealed: Bytes): Promise<Bytes> {
  if (sealed[0] !== VERSION || sealed.length < 1 + NONCE + 16) throw new Error('not encrypted by this app');
  return new Uint8Array(
    await crypto.subtle.decrypt(
      { name: 'AES-GCM', iv: sealed.slice(1, 1 + NONCE), additionalData: utf8(about) },
      await keyOf(raw),
      sealed.slice(1 + NONCE),
    ),
  );
}

/** 32 bytes that follow from others, by HKDF with SHA-256 (RFC 5869). */
export async function derive(seed: Bytes, what: string): Promise<Bytes> {
  const key = await crypto.subtle.importKey('raw', seed, 'HKDF', false, ['deriveBits']);
  return new Uint8Array(
    await crypto.subtle.deriveBits(
      { name: 'HKDF', hash: 'SHA-256', salt: utf8('twobar studio 1'), info: utf8(what) },
      key,
      256,
    ),
  );
}

/** HMAC with SHA-256. */
export async function authenticate(raw: Bytes, text: string): Promise<Bytes> {
  const key = await crypto.subtle.importKey('raw', raw, { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
  return new Uint8Array(await crypto.subtle.sign('HMAC', key, utf8(text)));
}
