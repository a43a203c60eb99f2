import { fstatSync, writeSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { because } from './because.ts';
import type { Io } from './io.ts';
import { linesOf } from './lines.ts';
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
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EAGAIN') continue;
      // The reader of a pipe (head) has gone, see below; and where errors are told there is no telling.
      if (code === 'EPIPE' || descriptor !== 1) throw error;
      throw because('writing', 'standard output', error);
    }
}

/** The whole line is rewritten; at the end it is taken away. */
function progress(share: number): void {
  writeAll(2, share < 1 ? `\rlistening: ${Math.floor(share * 100)} %` : '\r\x1b[K');
}

async function* inputLines(): AsyncGenerator<string> {
  try {
    // Node takes a folder for a stream without anything in it.
    if (fstatSync(0).isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    yield* linesOf(process.stdin as AsyncIterable<Uint8Array>);
  } catch (error) {
    throw (error as NodeJS.ErrnoException).code ? because('reading', 'standard input', error) : error;
  }
}

const io: Io = {
  out: (data) => writeAll(1, data),
  inputLines,
  progress: process.stderr.isTTY ? progress : undefined,
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
