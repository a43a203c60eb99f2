import { ASSET_URLS } from './assetUrls.ts';
import { startEarWorker } from './ear/earWorker.ts';
import { loadCapture, openMicrophone } from './microphone/microphone.ts';
import type { Microphone } from './microphone/microphone.ts';
import { measureLoopback, measureWithNotes } from './latency/measure.ts';
import { recordWhile, TAIL_SEC } from './latency/recordWhile.ts';
import { outputLatencyOf } from './outputLatency.ts';
import { play } from './player.ts';
import { AudioProblem } from './problem.ts';
import { createRenderer } from './render/index.ts';
import { createTracks } from './track/tracks.ts';
import { AS_MIXED, checkBalance } from './render/mix.ts';
import type { LiveEvent, Sound } from './types.ts';

/**
 * What the browser's own figures leave out. Measured over a sound server (2026-11): true round trips of 81 to
 * 125 ms where `baseLatency + outputLatency + track latency` said 70; so 33 ms are added and 35 ms doubted.
 */
const UNREPORTED_SEC = 0.033;
const UNREPORTED_HALF_WIDTH_SEC = 0.035;
/**
 * Where the browser does not say the way in or the way out, far more is left out: 74 ms guessed where 72 to 135 were
 * measured (Firefox 153), 36 where 125 to 146 were (WebKitGTK 2.50), both over a sound server (2026-11).
 */
const UNKNOWN_HALF_WIDTH_SEC = 0.1;
/** A machine without any output never settles `resume`. */
const RESUME_MS = 4000;

async function fetchAsset(name: string): Promise<ArrayBuffer> {
  const response = await fetch(ASSET_URLS[name]!);
  if (!response.ok) throw new Error(`${response.status} for ${response.url}`);
  return response.arrayBuffer();
}

/**
 * Makes the one AudioContext and what hangs on it. Call it after a user gesture.
 * @throws AudioProblem `no-audio-worklet` or `insecure-context`
 */
export async function openSound(): Promise<Sound> {
  // Browsers hide AudioWorklet where the page is not secure; the remedy is another one then.
  if (!globalThis.isSecureContext) throw new AudioProblem('insecure-context');
  const context = new AudioContext({ latencyHint: 'interactive' });
  await loadCapture(context);
  const ear = startEarWorker();
  const tracks = createTracks(context, ear);
  const renderer = createRenderer({
    track: (span) => tracks.ready(span),
    loadAsset: fetchAsset,
    offlineContext: (length, rate) => new OfflineAudioContext(1, length, rate),
    measure: ear.measure,
  });
  const listeners = new Set<(event: LiveEvent) => void>();
  const live = (event: LiveEvent): void => listeners.forEach((listener) => listener(event));
  let microphone: Microphone | null = null;
  const opened = (): Microphone => {
    if (!microphone) throw new TypeError('the microphone is closed: call openMicrophone first');
    return microphone;
  };
  context.addEventListener('statechange', () => {
    if (state() === 'suspended') live({ type: 'problem', code: 'context-suspended' });
  });
  // iOS says "interrupted" while a call has the sound.
  const state = (): Sound['state'] =>
    context.state === 'running' || context.state === 'closed' ? context.state : 'suspended';
  const { sampleRate } = context;
  const output = outputLatencyOf(context);
  const unlessMissing = <T>(work: Promise<T>): Promise<T> =>
    work.catch((error: unknown) => {
      const missing = error instanceof Error && error.message.startsWith('sound file ');
      throw missing ? new AudioProblem('assets-missing', error) : error;
    });

  let balance = AS_MIXED;

  const sound: Sound = {
    tracks,
    sampleRate,
    get balance() {
      return balance;
    },
    setBalance(wanted) {
      balance = checkBalance(wanted);
    },
    get frame() {
      return Math.round(context.currentTime * sampleRate);
    },
    get state() {
      return state();
    },
    async resume() {
      let timer: ReturnType<typeof setTimeout> | undefined;
      const late = new Promise<never>((_, reject) => {
        timer = setTimeout(() => reject(new AudioProblem('context-suspended')), RESUME_MS);
      });
      await Promise.race([context.resume(), late]).finally(() => clearTimeout(timer));
    },
    preload: () => unlessMissing(renderer.preload(sampleRate)),
    render: async (sheet, options = {}) =>
      (await unlessMissing(renderer.render([sheet], { sampleRate, balance, ...options })))[0]!,
    renderTogether: (sheets) => unlessMissing(renderer.render(sheets, { sampleRate, balance })),
    play: (rendered, options) => play(context, rendered, output, options),
    reportedLatency() {
      const [out, into] = [output.sec, microphone?.reportedLatencySec ?? 0];
      return {
        sec: context.baseLatency + out + into + UNREPORTED_SEC,
        halfWidthSec: out > 0 && into > 0 ? UNREPORTED_HALF_WIDTH_SEC : UNKNOWN_HALF_WIDTH_SEC,
      };
    },
    playAndRecord: (rendered, options) => recordWhile(sound, rendered, TAIL_SEC, options),
    measureLoopback: (options) => measureLoopback(sound, ear, options),
    measureWithNotes: (clicks, options) => measureWithNotes(sound, ear, clicks, options),
    async devices() {
      const devices = (await navigator.mediaDevices?.enumerateDevices()) ?? [];
      return devices
        .filter(({ kind, deviceId }) => kind === 'audioinput' && deviceId !== '')
        .map(({ deviceId, label }) => ({ deviceId, label }));
    },
    async openMicrophone(options) {
      microphone?.close();
      microphone = null;
      microphone = await output.during(openMicrophone(context, options, live));
      return microphone.info;
    },
    closeMicrophone() {
      microphone?.close();
      microphone = null;
    },
    get microphone() {
      return microphone?.info ?? null;
    },
    onLive(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    expectChords: (expected) => microphone?.expectChords(expected),
    startRecording: () => opened().startRecording(),
    stopRecording: async () => opened().stopRecording(),
    listen: ({ onProgress, ...input }) => ear.listen(input, onProgress),
    listenChords: (request) => ear.listenChords(request),
    async close() {
      microphone?.close();
      microphone = null;
      ear.close();
      listeners.clear();
      await context.close();
    },
  };
  return sound;
}
