import qrcode from 'qrcode-generator';

/** A QR code (ISO/IEC 18004) as its dark modules; a side counts without the quiet zone of 4 around it. */
export interface QrCode {
  readonly side: number;
  /** An SVG path of unit squares over the side. */
  readonly path: string;
}

/** Bytes of the largest code (version 40) at error correction L. */
const MOST_BYTES = 2953;

/** @param text ASCII, as an address is. @returns null when it is too long for any code. */
export function qrCode(text: string): QrCode | null {
  if (text.length > MOST_BYTES) return null;
  // Level L: codes are shown on a screen, not printed on crates, and fewer modules are read from further off.
  const code = qrcode(0, 'L');
  code.addData(text, 'Byte');
  code.make();
  const side = code.getModuleCount();
  let path = '';
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      if (code.isDark(row, column)) path += `M${column} ${row}h1v1h-1z`;
  return { side, path };
}
