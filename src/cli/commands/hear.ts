import { UsageError, type Io } from '../io.ts';
import { listenTo } from '../listen.ts';
import { Options } from '../options.ts';
import { heardTable } from '../tables.ts';

/** `hear`: the notes of a recording, where asked without what the loudspeaker played into it. */
export async function hear(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, { instrument: 'value', backing: 'value', from: 'value', json: 'flag' });
  const [path] = options.exactly('TAKE.wav');
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const backing = options.text('backing');
  if (backing === null && options.text('from') !== null)
    throw new UsageError(
      '--from goes with --backing: notes are wanted from there on, what lies before is learnt from',
    );
  const fromSec = options.number('from', 0, 3600, 0);
  const take = await listenTo(path!, instrument, backing === null ? null : { path: backing, fromSec });
  io.out(options.flag('json') ? `${JSON.stringify(take)}\n` : heardTable(take));
}
