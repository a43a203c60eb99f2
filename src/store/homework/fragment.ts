import { ImportProblem } from '../problem.ts';

/** Base64url without padding (RFC 4648 §5), in steps that no browser's argument limit minds. */
export function toBase64Url(bytes: Uint8Array): string {
  let binary = '';
  for (let at = 0; at < bytes.length; at += 8192)
    binary += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** @throws ImportProblem 'corrupt' for anything that is not base64url. */
export function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  if (!/^[A-Za-z0-9_-]*$/.test(text)) throw new ImportProblem('corrupt', 'the link holds other characters');
  let binary: string;
  try {
    binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  } catch (error) {
    throw new ImportProblem('truncated', 'the link is cut off', error);
  }
  return Uint8Array.from(binary, (char) => char.charCodeAt(0));
}
