/**
 * Base64url without padding (RFC 4648, section 5). By hand over what every browser and Node has: a library for it would
 * hold a coder of its own, and `Uint8Array.prototype.toBase64` is in neither Node 20 nor last year's browsers.
 */
export function toBase64Url(bytes: Uint8Array): string {
  let binary = '';
  // In steps that no machine's limit of arguments minds.
  for (let at = 0; at < bytes.length; at += 8192)
    binary += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** @throws DOMException for a length or a sign that base64url does not have */
export function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  const plain = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  const bytes = new Uint8Array(plain.length);
  for (let at = 0; at < bytes.length; at++) bytes[at] = plain.charCodeAt(at);
  return bytes;
}
