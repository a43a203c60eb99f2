/** Takes captured chunks off the worklet's port: keeps them while recording and listens live. */
import { createLiveEar } from '../../dsp/index.ts';
import type { LiveEvent } from '../types.ts';
import { createBandwidthWatch } from './bandwidth.ts';
import { createChordFeed } from './chordFeed.ts';
import type { ChordFeed } from './chordFeed.ts';
import { createChannelChooser } from './chooseChannel.ts';
import { createLiveFeed } from './liveFeed.ts';
import type { CaptureChunk, CaptureCommand, CaptureReport } from './protocol.ts';
import { createRecorder } from './recorder.ts';
import type { Recorder } from './recorder.ts';

/**
 * When a stopped stream sends nothing more for so long, a recording is handed over, its end a gap. On a busy machine chunks
 * that were sent in time wait here to be heard: while they come, their end is waited for.
 */
const PATIENCE_MS = 400;

let recorder: Recorder | null = null;
let chords: ChordFeed | null = null;
let stopAt: number | null = null;
let cameMs = 0;

const report = (message: CaptureReport, transfer: Transferable[] = []): void =>
  self.postMessage(message, { transfer });
const live = (event: LiveEvent): void => report({ type: 'live', event });

function handOver(): void {
  if (!recorder || stopAt === null) return;
  const recording = recorder.finish(stopAt);
  stopAt = null;
  report({ type: 'recording', recording }, [recording.samples.buffer]);
}

function handOverWhenOver(): void {
  if (performance.now() - cameMs < PATIENCE_MS) setTimeout(handOverWhenOver, PATIENCE_MS);
  else handOver();
}

function open({ port, sampleRate, instrument, channel }: Extract<CaptureCommand, { type: 'open' }>): void {
  const keeping = createRecorder(sampleRate, channel);
  const chooser = createChannelChooser(channel, sampleRate);
  const bandwidth = createBandwidthWatch(sampleRate);
  const feed = createLiveFeed(() => createLiveEar({ sampleRate, instrument }));
  const strokes = createChordFeed(sampleRate);
  let band = 'unknown';
  recorder = keeping;
  chords = strokes;
  port.onmessage = ({ data: chunk }: MessageEvent<CaptureChunk>) => {
    keeping.push(chunk);
    cameMs = performance.now();
    if (stopAt !== null && keeping.reached(stopAt)) handOver();
    const samples = chunk.channels[chooser.choose(chunk.channels)];
    if (!samples) return;
    for (const event of feed.push(samples, chunk.frame)) {
      live(event);
      if (event.type === 'onset') strokes.attack(event.atFrame);
    }
    strokes.push(samples, chunk.frame).forEach(live);
    const heard = bandwidth.push(samples);
    if (heard !== band && heard === 'narrow') live({ type: 'problem', code: 'narrow-band' });
    band = heard;
  };
}

self.onmessage = ({ data }: MessageEvent<CaptureCommand>) => {
  if (data.type === 'open') open(data);
  else if (data.type === 'record') recorder?.record(data.fromFrame);
  else if (data.type === 'expect') chords?.expect(data.expected);
  else {
    stopAt = data.toFrame;
    if (recorder?.reached(data.toFrame)) handOver();
    else setTimeout(handOverWhenOver, PATIENCE_MS);
  }
};
