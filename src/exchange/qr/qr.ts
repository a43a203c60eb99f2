import qrcode from 'qrcode-generator';

/** A QR code (ISO/IEC 18004) as its dark modules; a side counts without the quiet zone of 4 around it. */
export interface QrCode {
  readonly side: number;
  /** An SVG path of unit squares over the side. */
  readonly path: string;
}

/** Bits of the largest code (version 40) at error correction L, without its heads. */
const MOST_BITS = 23_600;

/** @param text ASCII, as an address is; figures at its end take less room. @returns null when it is too long for any code. */
export function qrCode(text: string): QrCode | null {
  const figures = /\d{20,}$/.exec(text)?.[0] ?? '';
  const signs = text.slice(0, text.length - figures.length);
  if (8 * signs.length + (10 * figures.length) / 3 > MOST_BITS) return null;
  // Level L: codes are shown on a screen, not printed on crates, and fewer modules are read from further off.
  const code = qrcode(0, 'L');
  code.addData(signs, 'Byte');
  if (figures !== '') code.addData(figures, 'Numeric');
  code.make();
  const side = code.getModuleCount();
  let path = '';
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      if (code.isDark(row, column)) path += `M${column} ${row}h1v1h-1z`;
  return { side, path };
}
