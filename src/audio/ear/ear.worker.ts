/** Heavy work off the page's thread: hearing takes, measuring loudness. One job at a time, in order. */
import { findBeats, findProbe, makeProbe, onsetStrength } from '../../dsp/index.ts';
import { measure } from '../render/level.ts';
import { stretched } from '../track/stretch.ts';
import { listen } from './listen.ts';
import { listenChords } from './listenChords.ts';
import type { EarAnswer, EarJob } from './protocol.ts';

self.onmessage = ({ data: job }: MessageEvent<EarJob>) => {
  const answer = (body: EarAnswer['body']): void =>
    self.postMessage({ id: job.id, body } satisfies EarAnswer);
  try {
    if (job.type === 'listen') {
      const onProgress = (share: number): void => answer({ type: 'progress', share });
      answer({ type: 'heard', take: listen(job.input, onProgress) });
    } else if (job.type === 'chords') answer({ type: 'chords', chords: listenChords(job.input) });
    else if (job.type === 'findProbe') {
      const trip = findProbe(job.samples, job.sentAt, makeProbe(job.sampleRate));
      answer({ type: 'trip', trip });
    } else if (job.type === 'beats') {
      const beats = findBeats(onsetStrength(job.samples, job.sampleRate), job.wish);
      answer({ type: 'foundBeats', beats });
    } else if (job.type === 'stretch') {
      stretched(job.samples, job.sampleRate, job.stretch).then(
        (samples) => answer({ type: 'stretched', samples }),
        (error: unknown) => answer({ type: 'failed', message: String(error) }),
      );
    } else answer({ type: 'measured', measured: measure(job.samples, job.sampleRate) });
  } catch (error) {
    answer({ type: 'failed', message: String(error) });
  }
};
