import { joined, TooLong } from '../exchange/index.ts';
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
    if (error instanceof TooLong) throw new ImportProblem('too-big', error.message, error);
    throw new ImportProblem('corrupt', 'the contents cannot be unpacked', error);
  }
}
