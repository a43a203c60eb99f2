import { hearTake } from '../../../src/dsp/index.ts';
import { STANDARD, timed } from './listener.ts';
import type { BenchListener } from './listener.ts';

/** This project's listener, as `twobar hear` runs it. */
export const ownListener = (): BenchListener => ({
  name: 'twobar',
  findsTuning: true,
  hear: ({ signal, sampleRate, instrument }) => {
    const { value, seconds } = timed(() =>
      hearTake(signal, sampleRate, { instrument, tuning: STANDARD[instrument] }),
    );
    const { notes, heard } = value;
    return Promise.resolve({ notes, seconds, verdict: heard.reason ?? heard.verdict });
  },
  close: () => {},
});
