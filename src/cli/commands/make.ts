import { LEVELS, makeTest } from '../../tests-engine/index.ts';
import { given, type Io } from '../io.ts';
import { Options } from '../options.ts';

const HIGHEST_SEED = 0xffffffff;
/** Enough for any corpus; at 2,000 a second it takes eight minutes. */
const MOST = 1_000_000;
/** Tests are handed out in bundles: one write a test costs more than the test. */
const BUNDLE = 200;

/** `make`: tests as JSON, one a line, of consecutive seeds. */
export function make(args: readonly string[], io: Io): void {
  const options = new Options(args, {
    kind: 'value',
    level: 'value',
    seed: 'value',
    instrument: 'value',
    count: 'value',
  });
  options.exactly();
  const kind = options.choice('kind', ['melody', 'rhythm']);
  const level = options.whole('level', 1, LEVELS.length);
  const seed = options.whole('seed', 0, HIGHEST_SEED);
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const count = options.whole('count', 1, Math.min(MOST, HIGHEST_SEED - seed + 1), 1);
  for (let from = 0; from < count; from += BUNDLE) {
    let lines = '';
    for (let i = from; i < Math.min(count, from + BUNDLE); i++)
      lines += `${JSON.stringify(given('make', () => makeTest({ kind, level, seed: seed + i, instrument })))}\n`;
    io.out(lines);
  }
}
