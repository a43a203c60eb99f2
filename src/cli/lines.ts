import { UsageError } from './io.ts';

/** A pair of note lists of 5,000 notes each is 1 MB. */
const MOST_BYTES = 2 ** 24;
const LINE_END = 0x0a;
const RETURN = 0x0d;

/**
 * The lines of a stream of bytes, without their ends. @throws UsageError naming a line that is too long, or no UTF-8.
 */
export async function* linesOf(stream: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let number = 1;
  let parts: Uint8Array[] = [];
  let held = 0;
  const take = (part: Uint8Array): void => {
    held += part.length;
    if (held > MOST_BYTES)
      throw new UsageError(`line ${number}: it is longer than ${MOST_BYTES / 2 ** 20} MiB`);
    parts.push(part);
  };
  const line = (): string => {
    const bytes = parts.length === 1 ? parts[0]! : Buffer.concat(parts);
    const end = bytes.at(-1) === RETURN ? bytes.length - 1 : bytes.length;
    parts = [];
    held = 0;
    try {
      return decoder.decode(bytes.subarray(0, end));
    } catch (cause) {
      throw new UsageError(`line ${number}: it is not UTF-8 text; save it as UTF-8`, { cause });
    } finally {
      number++;
    }
  };
  for await (const chunk of stream) {
    let from = 0;
    for (let end = chunk.indexOf(LINE_END); end >= 0; end = chunk.indexOf(LINE_END, from)) {
      take(chunk.subarray(from, end));
      yield line();
      from = end + 1;
    }
    if (from < chunk.length) take(chunk.subarray(from));
  }
  if (held > 0) yield line();
}
