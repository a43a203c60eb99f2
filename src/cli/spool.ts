import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { because } from './because.ts';
import { UsageError } from './io.ts';
import { begin, done } from './write.ts';

/** More than this no WAV file holds but one of the long kind, which an hour of stereo at 96 kHz does not need. */
const MOST_BYTES = 2 ** 32;
const BLOCK_BYTES = 2 ** 18;

/**
 * What comes out of a pipe, in a file that can be read twice and from anywhere: which channel is the louder is known only at the
 * end. The file has no name any more before its first byte is written, so that nothing is left behind however the program ends.
 *
 * @param pipe is read to its end and closed
 * @throws UsageError where the disk is full, or the pipe does not end
 */
export async function spooled(path: string, pipe: FileHandle): Promise<FileHandle> {
  const place = join(tmpdir(), `.twobar-${randomBytes(6).toString('hex')}`);
  let file: FileHandle | null = null;
  begin(place);
  try {
    file = await open(place, 'wx+', 0o600);
    rmSync(place);
    done(place);
    const bytes = new Uint8Array(BLOCK_BYTES);
    let total = 0;
    for (;;) {
      const { bytesRead } = await pipe.read(bytes, 0, bytes.length, null);
      if (bytesRead === 0) return file;
      if ((total += bytesRead) > MOST_BYTES)
        throw new UsageError(`${path}: it is larger than ${MOST_BYTES / 2 ** 20} MiB`);
      await file.appendFile(bytes.subarray(0, bytesRead));
    }
  } catch (error) {
    await file?.close();
    throw error instanceof UsageError ? error : because('writing', tmpdir(), error);
  } finally {
    done(place);
    await pipe.close();
  }
}
