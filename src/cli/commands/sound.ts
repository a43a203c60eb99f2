import { writeWav } from '../../exchange/index.ts';
import {
  backingSheet,
  hearingSheet,
  performanceSheet,
  phraseSheet,
  wholeSheet,
} from '../../tests-engine/index.ts';
import { readTestFile } from '../files.ts';
import { given, type Io } from '../io.ts';
import { Options } from '../options.ts';
import { writeBytes } from '../write.ts';

/**
 * `sound`: a test as a WAV file. `whole` is hearing, the silent practice window and performance; `phrase`
 * and `backing` are the two layers apart, on one clock and as loud as they are in the whole.
 */
export async function sound(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, { out: 'value', part: 'value' });
  const [path] = options.exactly('TEST.json');
  const out = options.required('out');
  const part = options.choice('part', ['whole', 'phrase', 'backing'], 'whole');
  const test = await readTestFile(path!);
  const sheets = given(path!, () => [hearingSheet(test), performanceSheet(test)]);
  const [hearing] = await io.render(sheets);
  const sheet =
    part === 'whole' ? wholeSheet(test) : part === 'phrase' ? phraseSheet(test) : backingSheet(test);
  const [rendered] = await io.render([sheet], hearing!.gainDb);
  await writeBytes(out, writeWav(rendered!.samples, rendered!.sampleRate), [path!]);
}
