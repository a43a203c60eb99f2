import type { Instrument } from '../../music/score.ts';
import { TUNINGS } from '../../tests-engine/index.ts';
import { UsageError, type Io } from '../io.ts';
import { listenTo } from '../listen.ts';
import { Options } from '../options.ts';
import { heardTable } from '../tables.ts';
import { hearChords } from './hearChords.ts';

/** Lowest open strings where no tuning is given: a guitar's sixth may be let down to D, a bass's fourth is E. */
const LOWEST: Readonly<Record<Instrument, number>> = { guitar: 38, bass: 28 };

/** A tuning's name, its open strings, or `any`; nothing given: as the instrument may be tuned. */
function tuningFrom(text: string | null, instrument: Instrument): readonly number[] | 'any' | undefined {
  if (text === null) return undefined;
  if (text === 'any') return 'any';
  const named = TUNINGS.filter((tuning) => tuning.instrument === instrument);
  const known = named.find(({ id }) => id === text);
  if (known) return known.strings;
  const strings = text.split(',').map((word) => (/^\d+$/.test(word) ? Number(word) : NaN));
  if (strings.every((open) => open >= 12 && open <= 84)) return strings;
  throw new UsageError(
    `--tuning is ${named.map(({ id }) => id).join(', ')}, "any" for every pitch, or the open strings as MIDI numbers from 12 to 84 with commas between, not "${text}"`,
  );
}

/** `hear`: the notes of a recording, or with --chords its strums, where asked without what the loudspeaker played into it. */
export async function hear(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, {
    instrument: 'value',
    tuning: 'value',
    backing: 'value',
    from: 'value',
    json: 'flag',
    chords: 'flag',
    asked: 'value',
    driven: 'flag',
  });
  const [path] = options.exactly('TAKE.wav');
  const instrument = options.choice('instrument', ['guitar', 'bass'], 'guitar');
  const tuning = tuningFrom(options.text('tuning'), instrument);
  const backing = options.text('backing');
  if (backing === null && options.text('from') !== null)
    throw new UsageError(
      '--from goes with --backing: it says from which second on notes are wanted; give --backing too, or leave it out',
    );
  const fromSec = options.number('from', 0, 3600, 0);
  const over = backing === null ? null : { path: backing, fromSec };
  if (options.flag('chords')) {
    const lowest = Array.isArray(tuning) ? Math.min(...(tuning as readonly number[])) : LOWEST[instrument];
    return hearChords(path!, { lowest, over }, options, io);
  }
  for (const name of ['asked', 'driven'])
    if (options.text(name) !== null || options.flag(name))
      throw new UsageError(`--${name} goes with --chords: single notes are heard without it`);
  const take = await listenTo(path!, { instrument, tuning }, over, io.progress);
  io.out(options.flag('json') ? `${JSON.stringify(take)}\n` : heardTable(take));
}
