/** 16 random bytes as 32 hex digits: 2^122 takes before two students on earth share one, in effect never. */
export function randomId(): string {
  return hex(crypto.getRandomValues(new Uint8Array(16)));
}

/** Lower-case hex, two digits a byte. */
export function hex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
