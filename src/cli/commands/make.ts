// The generator's own door: marks and progress are not needed here, and half of the time of a short run is loading.
import { LEVELS, makeTest } from '../../tests-engine/material/index.ts';
import { given, UsageError, type Io } from '../io.ts';
import { Options } from '../options.ts';

const HIGHEST_SEED = 0xffffffff;
/** Enough for any corpus; at 2,000 a second it takes eight minutes. */
const MOST = 1_000_000;
/** Tests are handed out in bundles: one write a test costs more than the test. */
const BUNDLE = 200;

/** `make`: tests as JSON, one a line, of consecutive seeds; or one test as MusicXML or MIDI. */
export async function make(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, {
    kind: 'value',
    level: 'value',
    seed: 'value',
    instrument: 'value',
    count: 'value',
    format: 'value',
  });
  options.exactly();
  const kind = options.choice('kind', ['melody', 'rhythm']);
  const level = options.whole('level', 1, LEVELS.length);
  const seed = options.whole('seed', 0, HIGHEST_SEED);
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const count = options.whole('count', 1, Math.min(MOST, HIGHEST_SEED - seed + 1), 1);
  const format = options.choice('format', ['json', 'musicxml', 'midi'], 'json');
  const test = (i: number) => given('make', () => makeTest({ kind, level, seed: seed + i, instrument }));
  if (format !== 'json') {
    if (count !== 1) throw new UsageError(`--format ${format} gives one test; leave --count out`);
    const { testToMidi, testToMusicXml } = await import('../../exchange/index.ts');
    io.out(format === 'midi' ? testToMidi(test(0)) : testToMusicXml(test(0)));
    return;
  }
  for (let from = 0; from < count; from += BUNDLE) {
    let lines = '';
    for (let i = from; i < Math.min(count, from + BUNDLE); i++) lines += `${JSON.stringify(test(i))}\n`;
    io.out(lines);
  }
}
