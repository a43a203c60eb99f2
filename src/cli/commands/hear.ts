import type { Io } from '../io.ts';
import { listenTo } from '../listen.ts';
import { Options } from '../options.ts';
import { heardTable } from '../tables.ts';

/** `hear`: the notes of a recording. */
export async function hear(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, { instrument: 'value', json: 'flag' });
  const [path] = options.exactly('TAKE.wav');
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const take = await listenTo(path!, instrument);
  io.out(options.flag('json') ? `${JSON.stringify(take)}\n` : heardTable(take));
}
