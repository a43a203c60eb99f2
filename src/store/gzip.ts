import { MOST } from './limits.ts';
import { ImportProblem } from './problem.ts';
import { watchJson } from './scan.ts';

/** How much JSON may come out of so many packed bytes, `most` at the utmost. */
export const unpacksTo = (packed: number, most: number): number =>
  Math.min(most, Math.max(MOST.freeBytes, MOST.ratio * packed));

/** gzip (RFC 1952), by the browser. */
export const gzipped = (bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> =>
  joined(new Blob([bytes]).stream().pipeThrough(new CompressionStream('gzip')));

/**
 * The JSON in gzipped UTF-8, and how long its text is.
 * @throws ImportProblem 'too-big' when it unpacks to more than `most` bytes, 'invalid' when it is nested too deeply, 'corrupt' when it cannot be unpacked.
 */
export async function gunzippedJson(
  bytes: Uint8Array<ArrayBuffer>,
  most: number,
): Promise<{ readonly json: unknown; readonly length: number }> {
  try {
    const text = await joined(
      new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip')),
      most,
      watchJson(),
    );
    return {
      json: JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(text)),
      length: text.length,
    };
  } catch (error) {
    if (error instanceof ImportProblem) throw error;
    throw new ImportProblem('corrupt', 'the contents cannot be unpacked', error);
  }
}

/** All that a stream gives, in one piece. @throws ImportProblem 'too-big' beyond `most` bytes, and what `look` throws. */
export async function joined(
  stream: ReadableStream<Uint8Array>,
  most = Infinity,
  look: (bytes: Uint8Array) => void = () => undefined,
): Promise<Uint8Array<ArrayBuffer>> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new ImportProblem('too-big', `unpacks to more than ${most} bytes`);
    }
    try {
      look(value);
    } catch (error) {
      await reader.cancel();
      throw error;
    }
    chunks.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}
