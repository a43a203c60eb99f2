import { writeWav } from '../../exchange/index.ts';
import type { CueSheet } from '../../music/score.ts';
import {
  backingSheet,
  earTest,
  handlerOf,
  hearingSheet,
  performanceSheet,
  phraseSheet,
  wholeSheet,
} from '../../tests-engine/index.ts';
import { readAnyTest } from '../files.ts';
import { given, UsageError, type Io } from '../io.ts';
import { Options } from '../options.ts';
import { writeBytes } from '../write.ts';

/** What of a test can be sounded. */
const PARTS = ['whole', 'phrase', 'backing'] as const;

/**
 * `sound`: a test as a WAV file. `whole` is hearing, the silent practice window and performance; `phrase`
 * and `backing` are the two layers apart, on one clock and as loud as they are in the whole. A page to read and a scale
 * are their notes alone.
 */
export async function sound(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, { out: 'value', part: 'value' });
  const [path] = options.exactly('TEST.json');
  const out = options.required('out');
  const part = options.choice('part', PARTS, 'whole');
  const { sheet, gainDb } = await sheetOf(path!, part, io);
  const [rendered] = await io.render([sheet], gainDb);
  await writeBytes(out, writeWav(rendered!.samples, rendered!.sampleRate), [path!]);
}

async function sheetOf(
  path: string,
  part: (typeof PARTS)[number],
  io: Io,
): Promise<{ readonly sheet: CueSheet; readonly gainDb?: number }> {
  const any = await readAnyTest(path);
  if (!('phrase' in any))
    throw new UsageError(`${path}: chords have no notes of their own to sound; give another test`);
  const test = earTest(any);
  if (!test) {
    if (part === 'backing') throw new UsageError(`${path}: a ${any.kind} has no backing; leave --part out`);
    return { sheet: handlerOf(any).target(any as never) };
  }
  const sheets = given(path, () => [hearingSheet(test), performanceSheet(test)]);
  const [hearing] = await io.render(sheets);
  const sheet = { whole: wholeSheet, phrase: phraseSheet, backing: backingSheet }[part](test);
  return { sheet, gainDb: hearing!.gainDb };
}
