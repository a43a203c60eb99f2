import { open } from 'node:fs/promises';
import { bracketCounter } from '../exchange/index.ts';
import type { Task } from '../music/task.ts';
import type { ChordTest } from '../music/chords/index.ts';
import {
  parseChordTest,
  parseImprovising,
  parsePiece,
  parseReading,
  parseScale,
  parseTest,
} from '../tests-engine/index.ts';
import { because } from './because.ts';
import { given, UsageError } from './io.ts';

/** A test of sixteen bars is some 40 kB, a list of 5,000 notes 500 kB. */
const MOST_JSON_BYTES = 2 ** 24;

/** A file's bytes, or those of a named pipe, never more than `most` of them; a device is refused. */
async function readBounded(path: string, most: number): Promise<Uint8Array> {
  try {
    const file = await open(path, 'r');
    try {
      const stat = await file.stat();
      if (stat.isDirectory()) throw new UsageError(`${path}: it is a folder`);
      if (!stat.isFile() && !stat.isFIFO()) throw new UsageError(`${path}: it is not a file`);
      const { size } = stat;
      const parts: Uint8Array[] = [];
      let total = 0;
      if (size <= most)
        for (;;) {
          const part = new Uint8Array(Math.max(size - total, 2 ** 16));
          const { bytesRead } = await file.read(part, 0, part.length);
          if (bytesRead === 0) return parts.length === 1 ? parts[0]! : new Uint8Array(Buffer.concat(parts));
          parts.push(part.subarray(0, bytesRead));
          if ((total += bytesRead) > most) break;
        }
      throw new UsageError(`${path}: it is larger than ${Math.round(most / 2 ** 20)} MiB`);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw error instanceof UsageError ? error : because('reading', path, error);
  }
}

/** A test goes seven deep. */
const DEEPEST = 64;
const TOO_DEEP = 'it is nested too deeply to be a test or a list of notes';

function utf8(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new SyntaxError('it is not UTF-8 text; save it as UTF-8');
  }
}

/** Lines shorter than this cannot be nested so deeply that anything minds. */
const SHORT_LINE = 4096;
/** A line of JSON that may be anything. @throws SyntaxError where it is nested too deeply */
export function notTooDeep(line: string): string {
  if (line.length > SHORT_LINE && bracketCounter()(new TextEncoder().encode(line)).deepest > DEEPEST)
    throw new SyntaxError(TOO_DEEP);
  return line;
}

export async function readJsonFile(path: string): Promise<unknown> {
  const bytes = await readBounded(path, MOST_JSON_BYTES);
  return given(path, () => {
    const text = utf8(bytes);
    if (bracketCounter()(bytes).deepest > DEEPEST) throw new SyntaxError(TOO_DEEP);
    if (text.trim() === '') throw new SyntaxError('the file is empty');
    try {
      return JSON.parse(text) as unknown;
    } catch {
      throw new SyntaxError(
        'it is not JSON (a bare NaN or a missing bracket will do that); make or export it again',
      );
    }
  });
}

/** How each kind of test is read; what names no kind of these is read as an ear test, which says what is wrong. */
const READERS: Readonly<Record<string, (json: unknown) => Task | ChordTest>> = {
  chords: parseChordTest,
  improvising: parseImprovising,
  piece: parsePiece,
  reading: parseReading,
  scale: parseScale,
};

/** A test of any kind. */
export async function readAnyTest(path: string): Promise<Task | ChordTest> {
  const json = await readJsonFile(path);
  const kind = typeof json === 'object' && json !== null ? (json as { kind?: unknown }).kind : undefined;
  const read = (typeof kind === 'string' && Object.hasOwn(READERS, kind) && READERS[kind]) || parseTest;
  return given<Task | ChordTest>(path, () => read(json));
}
