import { AudioProblem, microphoneProblem } from '../problem.ts';
import type {
  AudioProblemCode,
  ExpectedChords,
  LiveEvent,
  MicrophoneInfo,
  Recording,
  Sound,
} from '../types.ts';
import workletUrl from './capture.worklet.ts?worker&url';
import type { CaptureCommand, CaptureReport } from './protocol.ts';

/** Labels of wireless headsets and hands-free sets, whose microphone drops to call quality when opened. */
const HEADSET = /bluetooth|hands.?free|headset|airpods|ear ?buds|\bbuds\b/i;

export type OpenOptions = Parameters<Sound['openMicrophone']>[0];

/** An open microphone. It is connected to the capture worklet alone, never to the loudspeaker. */
export interface Microphone {
  readonly info: MicrophoneInfo;
  /** Seconds that the track itself reports, or 0. */
  readonly reportedLatencySec: number;
  startRecording(): void;
  stopRecording(): Promise<Recording>;
  expectChords(expected: ExpectedChords | null): void;
  close(): void;
}

/** Loads the capture worklet. @throws AudioProblem `no-audio-worklet` where the browser has none */
export async function loadCapture(context: AudioContext): Promise<void> {
  if (!('audioWorklet' in context) || typeof AudioWorkletNode === 'undefined')
    throw new AudioProblem('no-audio-worklet');
  await context.audioWorklet.addModule(workletUrl);
}

/**
 * Opens a microphone with all voice processing off.
 * @param onLive is given what is heard now, and problems as they come up
 * @throws AudioProblem `insecure-context`, `permission-refused`, `no-microphone` or `microphone-busy`
 */
export async function openMicrophone(
  context: AudioContext,
  options: OpenOptions,
  onLive: (event: LiveEvent) => void,
): Promise<Microphone> {
  const media = navigator.mediaDevices as MediaDevices | undefined;
  if (!media) throw new AudioProblem('insecure-context');
  const stream = await opened(media, options.deviceId);
  const track = stream.getAudioTracks()[0];
  if (!track) throw new AudioProblem('no-microphone');

  const source = context.createMediaStreamSource(stream);
  const capture = new AudioWorkletNode(context, 'twobar-capture', {
    channelCountMode: 'max',
    channelInterpretation: 'discrete',
  });
  const worker = new Worker(new URL('./capture.worker.ts', import.meta.url), { type: 'module' });
  const { port1, port2 } = new MessageChannel();
  capture.port.postMessage(port1, [port1]);
  const send = (command: CaptureCommand, transfer: Transferable[] = []): void =>
    worker.postMessage(command, transfer);
  const { sampleRate } = context;
  const { instrument, channel = 'louder' } = options;
  send({ type: 'open', port: port2, sampleRate, instrument, channel }, [port2]);

  let deliver: ((recording: Recording) => void) | null = null;
  let recording = false;
  worker.onmessage = ({ data }: MessageEvent<CaptureReport>) => {
    if (data.type === 'live') onLive(data.event);
    else deliver?.(data.recording);
  };
  const problem = (code: AudioProblemCode): void => onLive({ type: 'problem', code });
  const unplugged = (): void => problem('microphone-unplugged');
  const muted = (): void => problem('microphone-busy');
  const changed = (): void => void stillThere(track).then((there) => there || unplugged());
  track.addEventListener('ended', unplugged);
  track.addEventListener('mute', muted);
  media.addEventListener('devicechange', changed);
  source.connect(capture);

  const info = infoOf(track, source.channelCount);
  const nowFrame = (): number => Math.round(context.currentTime * sampleRate);
  return {
    info,
    reportedLatencySec: (track.getSettings() as { latency?: number }).latency ?? 0,
    startRecording() {
      recording = true;
      send({ type: 'record', fromFrame: nowFrame() });
    },
    stopRecording() {
      if (!recording) throw new TypeError('no recording runs: call startRecording first');
      recording = false;
      return new Promise((resolve) => {
        deliver = resolve;
        send({ type: 'stop', toFrame: nowFrame() });
      });
    },
    expectChords: (expected) => send({ type: 'expect', expected }),
    close() {
      track.removeEventListener('ended', unplugged);
      track.removeEventListener('mute', muted);
      media.removeEventListener('devicechange', changed);
      source.disconnect();
      capture.disconnect();
      worker.terminate();
      stream.getTracks().forEach((each) => each.stop());
    },
  };
}

/**
 * The stream of this microphone, or of the usual one where it is gone: the one that was chosen last may have been pulled
 * out, and some browsers give every device another id each time.
 */
async function opened(media: MediaDevices, deviceId: string | undefined): Promise<MediaStream> {
  try {
    return await media.getUserMedia({ audio: constraints(deviceId) });
  } catch (error) {
    const gone = deviceId !== undefined && (error as Error).name === 'OverconstrainedError';
    if (gone) return opened(media, undefined);
    throw microphoneProblem(error);
  }
}

const constraints = (deviceId: string | undefined): MediaTrackConstraints => ({
  ...(deviceId === undefined ? {} : { deviceId: { exact: deviceId } }),
  echoCancellation: false,
  noiseSuppression: false,
  autoGainControl: false,
  channelCount: { ideal: 2 },
});

function infoOf(track: MediaStreamTrack, sourceChannels: number): MicrophoneInfo {
  const settings = track.getSettings();
  // A browser that does not name a processing does not have it.
  const processing = {
    echoCancellation: Boolean(settings.echoCancellation),
    noiseSuppression: settings.noiseSuppression ?? false,
    autoGainControl: settings.autoGainControl ?? false,
  };
  const problems: AudioProblemCode[] = [];
  if (Object.values(processing).some(Boolean)) problems.push('processing-not-off');
  if (HEADSET.test(track.label)) problems.push('headset');
  // Some browsers say 0 where they do not know.
  const { sampleRate = 0 } = settings;
  if (sampleRate > 0 && sampleRate <= 16_000) problems.push('narrow-band');
  return {
    deviceId: settings.deviceId ?? '',
    label: track.label,
    channels: settings.channelCount ?? sourceChannels,
    processing,
    problems,
  };
}

/** Whether the track's device is still listed (a simulated one never was and counts as there). */
async function stillThere(track: MediaStreamTrack): Promise<boolean> {
  const { deviceId } = track.getSettings();
  if (!deviceId) return track.readyState === 'live';
  const devices = await navigator.mediaDevices.enumerateDevices();
  return devices.some((device) => device.kind === 'audioinput' && device.deviceId === deviceId);
}
