import { hearTake } from '../dsp/index.ts';
import { louderChannel } from '../exchange/index.ts';
import type { HeardTake } from '../notes.ts';
import type { Instrument } from '../score.ts';
import { readWavFile } from './files.ts';

/** Hears a recording from a file. */
export async function listenTo(path: string, instrument: Instrument): Promise<HeardTake> {
  const wav = await readWavFile(path);
  return hearTake(louderChannel(wav), wav.sampleRate, { instrument });
}
