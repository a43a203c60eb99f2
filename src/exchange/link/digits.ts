/**
 * A link's code in figures alone. A QR code (ISO/IEC 18004 §7.4.3) packs three figures into ten bits, and letters of
 * both cases into eight bits each, of which base64url uses six: the same code has about a fifth fewer modules.
 */
const BYTES = 7;
/** Figures that hold seven bytes: 10^17 > 256^7. */
const FIGURES = 17;
/** Figures for a last group of so many bytes. */
const figuresFor = (bytes: number): number => Math.ceil((bytes * 8) / Math.log2(10));
/** Before the figures: no other code begins with it. Behind it stands how many signs the code has. */
const SIGN = '0';
const LENGTH_FIGURES = 5;

const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

/** @param code letters, figures, `-` and `_`; at most 99,999 signs. @throws RangeError for other signs, or more. */
export function codeInFigures(code: string): string {
  if (code.length >= 10 ** LENGTH_FIGURES) throw new RangeError(`${code.length} signs`);
  // Six bits a sign, from the first one on.
  const bytes = new Uint8Array(Math.ceil((code.length * 6) / 8));
  [...code].forEach((sign, i) => {
    const value = SIGNS.indexOf(sign);
    if (value < 0) throw new RangeError(`“${sign}” is in no code`);
    for (let bit = 0; bit < 6; bit++) {
      const at = i * 6 + bit;
      if ((value >> (5 - bit)) & 1) bytes[at >> 3]! |= 0x80 >> (at & 7);
    }
  });
  let figures = SIGN + String(code.length).padStart(LENGTH_FIGURES, '0');
  for (let at = 0; at < bytes.length; at += BYTES) {
    const group = bytes.subarray(at, at + BYTES);
    const number = group.reduce((sum, byte) => sum * 256n + BigInt(byte), 0n);
    figures += String(number).padStart(figuresFor(group.length), '0');
  }
  return figures;
}

export const isInFigures = (text: string): boolean => text.startsWith(SIGN) && /^\d+$/.test(text);

/** What {@link codeInFigures} was given. @throws RangeError for figures that it never gives. */
export function codeFromFigures(figures: string): string {
  if (!isInFigures(figures)) throw new RangeError('no code in figures');
  const length = Number(figures.slice(1, 1 + LENGTH_FIGURES));
  const body = figures.slice(1 + LENGTH_FIGURES);
  const bytes = new Uint8Array(Math.ceil((length * 6) / 8));
  let read = 0;
  for (let at = 0; at < bytes.length; at += BYTES) {
    const count = Math.min(BYTES, bytes.length - at);
    const width = count === BYTES ? FIGURES : figuresFor(count);
    const group = body.slice(read, read + width);
    read += width;
    let number = group.length === width ? BigInt(group) : -1n;
    if (number < 0n || number >= 256n ** BigInt(count)) throw new RangeError('figures are missing or wrong');
    for (let i = count - 1; i >= 0; i--) {
      bytes[at + i] = Number(number % 256n);
      number /= 256n;
    }
  }
  if (read !== body.length) throw new RangeError('there are more figures than the code has');
  return Array.from({ length }, (_, i) => {
    let value = 0;
    for (let at = i * 6; at < i * 6 + 6; at++)
      value = (value << 1) | ((bytes[at >> 3]! >> (7 - (at & 7))) & 1);
    return SIGNS[value];
  }).join('');
}
