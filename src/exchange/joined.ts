/** Bytes one after the other, in one piece. */
export function inOne(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** More came out of a stream than may. */
export class TooLong extends RangeError {}

/**
 * All that a stream gives, in one piece; `look` sees each part as it comes, and may refuse it by throwing.
 * @throws TooLong beyond `most` bytes, and what `look` throws; the stream is then given up
 */
export async function joined(
  stream: ReadableStream<Uint8Array>,
  most = Infinity,
  look: (part: Uint8Array) => void = () => undefined,
): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      length += value.length;
      if (length > most) throw new TooLong(`unpacks to more than ${most} bytes`);
      look(value);
      parts.push(value);
    }
  } catch (error) {
    await reader.cancel().catch(() => undefined);
    throw error;
  }
  return inOne(parts);
}
