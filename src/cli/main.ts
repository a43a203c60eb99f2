import { writeSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createInterface } from 'node:readline';
import type { Io } from './io.ts';
import { run } from './run.ts';

/** The rate of the WAV files that `sound` writes: the CD's, which everything plays. */
const SAMPLE_RATE = 44_100;

/** Writes all of it before going on, also into a slow pipe. */
function writeAll(descriptor: number, data: string | Uint8Array): void {
  let rest = typeof data === 'string' ? Buffer.from(data) : data;
  while (rest.length > 0)
    try {
      rest = rest.subarray(writeSync(descriptor, rest));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
    }
}

const io: Io = {
  out: (data) => writeAll(1, data),
  inputLines: () => createInterface({ input: process.stdin, crlfDelay: Infinity }),
  render: async (sheets, gainDb) => {
    const [{ createRenderer }, nativeApi] = await Promise.all([
      import('../audio/render/index.ts'),
      import('node-web-audio-api'),
    ]);
    const renderer = createRenderer({
      loadAsset: async (name) =>
        Uint8Array.from(await readFile(new URL(`../audio/assets/${name}.mp3`, import.meta.url))).buffer,
      // The package's types differ from the DOM's in what is not used here.
      offlineContext: (length, rate) =>
        new nativeApi.OfflineAudioContext(1, length, rate) as unknown as OfflineAudioContext,
      nativeApi,
    });
    return renderer.render(sheets, { sampleRate: SAMPLE_RATE, ...(gainDb === undefined ? {} : { gainDb }) });
  },
};

try {
  const { exit, problem } = await run(process.argv.slice(2), io);
  if (problem !== null) writeAll(2, `${problem}\n`);
  process.exitCode = exit;
} catch (error) {
  // The reader of a pipe (head) has gone: nothing more to say.
  if ((error as NodeJS.ErrnoException).code === 'EPIPE') process.exitCode = 0;
  else {
    writeAll(
      2,
      `twobar: a fault in the program: ${error instanceof Error ? error.message : String(error)}\n`,
    );
    process.exitCode = 1;
  }
}
