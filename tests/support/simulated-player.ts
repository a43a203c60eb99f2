import type { Page } from 'playwright-core';

/**
 * A simulated player inside the page: its microphone is a MediaStreamAudioDestinationNode on the app's own
 * AudioContext, so what it plays is placed on the app's own clock to the sample, also under load.
 *
 * Playwright (e2e): `await addSimulatedPlayer(page)` before `page.goto`, then for each take
 * `await arm(page, {...})` before it starts. In a vitest browser test: `installSimulatedPlayer()` before
 * `openSound()`, then `window.__twobarPlayer`.
 *
 * The app needs no hook: the script sees its context being made, its buffers being started and its output being
 * connected. A performance is recognised by its length, which is its sheet's `durationSec`:
 *
 *     const sheet = performanceSheet(test);
 *     const takeStart = sheet.marks.find(({ label }) => label === 'takeStart')!;
 *     await arm(page, { pcm, sampleRate, lengthSec: sheet.durationSec, atSec: takeStart.atSec, roundTripSec: 'reported' });
 */
export interface Performance {
  /** Mono; sample 0 sounds at `atSec` of the app's buffer. */
  readonly pcm: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  /** Waits for a buffer of this length (±5 ms) to be started; left out, for the next one that starts. */
  readonly lengthSec?: number;
  readonly atSec: number;
  /**
   * How much later than the buffer's own time it reaches the app's recording. 'reported' = what the app must
   * assume of this browser (its `reportedLatency`), so that a punctual player is heard as punctual. Default:
   * the shortest there is, {@link PATH_SEC}.
   */
  readonly roundTripSec?: number | 'reported';
}

/** From the destination node to the capture: constant, measured (tests/audio/capture.browser.test.ts). */
export const PATH_SEC = 0.021;
/**
 * How many times faster than the wall's the app's clock runs in pages driven from outside. The context is made with so many times
 * the rate and says the usual one: every frame, buffer and time that the app sees is as it would be, only sooner. Nothing that
 * measures the machine itself (latency, drop-outs) may be tried so; `TWOBAR_PACE=1` lets all of it run at its true speed.
 */
export const PACE = Number(globalThis.process?.env['TWOBAR_PACE'] ?? 4);
/** What `openSound` adds to the browser's own figures (src/audio/openSound.ts). */
const UNREPORTED_SEC = 0.033;

export interface SimulatedPlayer {
  context: AudioContext | null;
  /** Constraints of every getUserMedia call, oldest first. */
  readonly asked: MediaStreamConstraints[];
  /** Buffers that the app started: when (context seconds), from where, how long. */
  readonly started: { readonly startSec: number; readonly offsetSec: number; readonly lengthSec: number }[];
  arm(performance: Performance): void;
  /** Plays without waiting for the app, `afterSec` from now; returns the context time of sample 0. */
  playNow(pcm: Float32Array<ArrayBuffer>, sampleRate: number, afterSec?: number): number;
  /**
   * Sends this share of the app's own output into the microphone, dB; −Infinity for none. `laterSec`: up to 0.5 s more way.
   * `roomSec`: through a room that dies away by 60 dB in this time; said before the microphone is opened, 0 for none.
   */
  bleed(gainDb: number, laterSec?: number, roomSec?: number): void;
  /**
   * How long the way from `hand` to the app's microphone is just now, seconds, to a sample: {@link PATH_SEC} on a calm
   * machine, and another by some blocks on a busy one. Sends a tick into the microphone and listens where the app does.
   */
  way(): Promise<number>;
  /** Ends the microphone's track as pulling its plug does. */
  unplug(): void;
}

declare global {
  interface Window {
    __twobarPlayer?: SimulatedPlayer;
  }
}

/**
 * Runs in the page before the app. Self-contained: it is also sent as text by {@link addSimulatedPlayer}.
 * @param pace how many times faster than the wall's the clock of the app runs, see {@link PACE}
 */
export function installSimulatedPlayer(pathSec = 0.021, unreportedSec = 0.033, pace = 1): SimulatedPlayer {
  const NativeContext = window.AudioContext;
  const nativeStart = (source: AudioBufferSourceNode, ...times: number[]): void =>
    start.apply(source, times.map((time) => time / pace) as [number?]);
  const { start, stop } = AudioBufferSourceNode.prototype;
  const nativeConnect = AudioNode.prototype.connect;
  const own = new WeakSet<AudioNode>();
  let hand: GainNode | null = null;
  let leak: GainNode | null = null;
  let way: DelayNode | null = null;
  let leakGain = 0;
  let leakSec = 0;
  let leakRoomSec = 0;
  let track: MediaStreamTrack | null = null;
  /** Hears both what the hand plays and what the app's microphone gives of it. */
  let witness: AnalyserNode | null = null;
  let armed: Performance[] = [];
  /** What reaches the microphone. */
  let into: AudioNode[] = [];

  function sound(pcm: Float32Array<ArrayBuffer>, sampleRate: number, atSec: number): void {
    const context = player.context!;
    const buffer = new AudioBuffer({ length: pcm.length, sampleRate });
    buffer.copyToChannel(pcm, 0);
    const source = context.createBufferSource();
    own.add(source);
    source.buffer = buffer;
    source.connect(hand!);
    nativeStart(source, Math.max(0, atSec), Math.max(0, -atSec));
  }
  /** Where the app may ask for times and rates of its context: all but the frames is `pace` times what it really is. */
  function quickened(): typeof AudioContext {
    const known = Object.getOwnPropertyDescriptor(AudioBufferSourceNode.prototype, 'buffer')!;
    const given = new WeakMap<AudioBufferSourceNode, AudioBuffer | null>();
    const faders = new WeakSet<AudioParam>();
    const wall = performance.now.bind(performance);
    performance.now = () => wall() * pace;
    Object.defineProperty(AudioBufferSourceNode.prototype, 'buffer', {
      configurable: true,
      get(this: AudioBufferSourceNode): AudioBuffer | null {
        return given.get(this) ?? (known.get!.call(this) as AudioBuffer | null);
      },
      set(this: AudioBufferSourceNode, buffer: AudioBuffer | null) {
        if (this.context !== player.context || !buffer) return void known.set!.call(this, buffer);
        const { length, numberOfChannels, sampleRate } = buffer;
        const sooner = new AudioBuffer({ length, numberOfChannels, sampleRate: sampleRate * pace });
        for (let c = 0; c < numberOfChannels; c++) sooner.copyToChannel(buffer.getChannelData(c), c);
        given.set(this, buffer);
        known.set!.call(this, sooner);
      },
    });
    AudioBufferSourceNode.prototype.stop = function (when = 0) {
      stop.call(this, this.context === player.context ? when / pace : when);
    };
    for (const name of ['setValueAtTime', 'linearRampToValueAtTime'] as const) {
      const native = AudioParam.prototype[name];
      AudioParam.prototype[name] = function (value, atSec) {
        return native.call(this, value, faders.has(this) ? atSec / pace : atSec);
      };
    }
    return class extends NativeContext {
      constructor(options?: AudioContextOptions) {
        super({ ...options, sampleRate: 48_000 * pace });
      }
      override get sampleRate(): number {
        return super.sampleRate / pace;
      }
      override get currentTime(): number {
        return super.currentTime * pace;
      }
      override get baseLatency(): number {
        return 0.01;
      }
      override get outputLatency(): number {
        return 0.02;
      }
      override createBuffer(numberOfChannels: number, length: number, sampleRate: number): AudioBuffer {
        return new AudioBuffer({ numberOfChannels, length, sampleRate });
      }
      override createGain(): GainNode {
        const node = super.createGain();
        faders.add(node.gain);
        return node;
      }
      override decodeAudioData(bytes: ArrayBuffer): Promise<AudioBuffer> {
        return new OfflineAudioContext(1, 1, this.sampleRate).decodeAudioData(bytes);
      }
      /** Not through a stream, whose way is of the wall's time. */
      override createMediaStreamSource(): MediaStreamAudioSourceNode {
        const source = this.createDelay(1);
        source.channelCountMode = 'explicit';
        source.channelCount = 1;
        source.delayTime.value = pathSec / pace;
        for (const node of into) nativeConnect.call(node, source as unknown as AudioParam);
        nativeConnect.call(source, witness as unknown as AudioParam);
        return source as unknown as MediaStreamAudioSourceNode;
      }
    };
  }
  function answer(startSec: number, offsetSec: number, lengthSec: number): void {
    const match = armed.find(
      (each) => each.lengthSec === undefined || Math.abs(each.lengthSec - lengthSec) < 0.005,
    );
    if (!match) return;
    armed = armed.filter((each) => each !== match);
    const context = player.context!;
    const reported = context.baseLatency + (context.outputLatency || 0) + unreportedSec;
    const trip = match.roundTripSec === 'reported' ? reported : (match.roundTripSec ?? pathSec);
    sound(match.pcm, match.sampleRate, startSec - offsetSec + match.atSec + trip - pathSec);
  }

  /** The way itself, then noise that begins 24 dB under it and dies away by 60 dB in `roomSec`. */
  function roomOf(context: AudioContext, roomSec: number): ConvolverNode {
    const length = Math.max(2, Math.round(roomSec * context.sampleRate));
    const response = new AudioBuffer({ length, sampleRate: context.sampleRate * pace });
    const samples = response.getChannelData(0);
    let noise = 2463534242;
    for (let n = 0; n < length; n++) {
      noise ^= noise << 13;
      noise ^= noise >>> 17;
      noise ^= noise << 5;
      samples[n] = 0.06 * ((noise >>> 0) / 2 ** 31 - 1) * 10 ** ((-3 * n) / length);
    }
    samples[0] = 1;
    const room = context.createConvolver();
    room.normalize = false;
    room.channelCountMode = 'explicit';
    room.channelCount = 1;
    room.buffer = response;
    return room;
  }

  const player: SimulatedPlayer = {
    context: null,
    asked: [],
    started: [],
    arm: (performance) => void armed.push(performance),
    playNow(pcm, sampleRate, afterSec = 0.1) {
      const at = player.context!.currentTime + afterSec;
      sound(pcm, sampleRate, at);
      return at;
    },
    bleed(gainDb, laterSec = 0, roomSec = 0) {
      leakRoomSec = roomSec;
      leakGain = 10 ** (gainDb / 20);
      leakSec = laterSec;
      if (leak) leak.gain.value = leakGain;
      if (way) way.delayTime.value = leakSec / pace;
    },
    async way() {
      const context = player.context!;
      const { sampleRate } = context;
      const heard = new Float32Array(witness!.fftSize);
      const listen = (): void => witness!.getFloatTimeDomainData(heard);
      const next = (from: number): number => heard.findIndex((x, i) => i >= from && Math.abs(x) > 0.2);
      const moment = (): Promise<unknown> => new Promise((done) => setTimeout(done, 30));
      // The witness remembers 0.68 s; a busy page may come too late to ask it, and then ticks again.
      for (let tries = 0; tries < 10; tries++) {
        for (listen(); next(0) >= 0; listen()) await moment();
        const at = context.currentTime + 0.1;
        sound(new Float32Array(20).fill(0.5), sampleRate, at);
        while (context.currentTime < at + 0.6) {
          await moment();
          listen();
          const sent = next(0);
          const came = sent < 0 ? -1 : next(sent + 100);
          if (came >= 0) return (came - sent) / sampleRate;
        }
      }
      throw new Error('the simulated player was not heard at its microphone');
    },
    unplug() {
      track?.stop();
      // stop() by script fires no event; pulling the plug does.
      track?.dispatchEvent(new Event('ended'));
    },
  };

  window.AudioContext = class extends (pace === 1 ? NativeContext : quickened()) {
    constructor(options?: AudioContextOptions) {
      super(options);
      player.context = this;
      hand = this.createGain();
      leak = this.createGain();
      way = this.createDelay(0.5);
      way.delayTime.value = leakSec / pace;
      // Mono throughout: a stereo feed into such a stream has gone silent in Chromium.
      for (const node of [hand, leak, way]) node.channelCountMode = 'explicit';
      for (const node of [hand, leak, way]) node.channelCount = 1;
      nativeConnect.call(leak, way as unknown as AudioParam);
      leak.gain.value = leakGain;
      witness = this.createAnalyser();
      witness.fftSize = 32_768;
      const louder = this.createGain();
      louder.gain.value = 1.5;
      nativeConnect.call(hand, louder as unknown as AudioParam);
      nativeConnect.call(louder, witness as unknown as AudioParam);
      // A node that is silent has no channel at all in Firefox, as no microphone has: -180 dB is silence too.
      if (!CSS.supports('-moz-appearance', 'none')) return;
      const air = this.createConstantSource();
      air.offset.value = 1e-9;
      nativeConnect.call(air, hand as unknown as AudioParam);
      air.start();
    }
  };
  AudioBufferSourceNode.prototype.start = function (when = 0, offset = 0, ...rest: number[]) {
    if (this.context === player.context && !own.has(this)) {
      const lengthSec = this.buffer?.duration ?? 0;
      player.started.push({ startSec: when, offsetSec: offset, lengthSec });
      answer(when, offset, lengthSec);
    }
    return this.context === player.context
      ? nativeStart(this, when, offset, ...rest)
      : start.call(this, when, offset, ...(rest as [number?]));
  };
  AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode | AudioParam, ...rest: number[]) {
    if (to instanceof AudioDestinationNode && to.context === player.context)
      (nativeConnect as (to: AudioNode) => unknown).call(this, leak!);
    if (this instanceof MediaStreamAudioSourceNode && this.context === player.context)
      (nativeConnect as (to: AudioNode) => unknown).call(this, witness!);
    return (nativeConnect as (...all: unknown[]) => unknown).call(this, to, ...rest);
  } as typeof AudioNode.prototype.connect;

  navigator.mediaDevices.getUserMedia = async (constraints) => {
    player.asked.push(constraints ?? {});
    const context = player.context;
    if (!context) throw new DOMException('no context yet', 'NotReadableError');
    const microphone = context.createMediaStreamDestination();
    microphone.channelCount = 1;
    into = [hand!, leakRoomSec === 0 ? way! : way!.connect(roomOf(context, leakRoomSec))];
    for (const node of into) node.connect(microphone);
    track = microphone.stream.getAudioTracks()[0]!;
    return microphone.stream;
  };
  navigator.mediaDevices.enumerateDevices = async () => [
    {
      kind: 'audioinput',
      deviceId: track?.getSettings().deviceId ?? 'simulated',
      groupId: '',
      label: 'Simulated player',
      toJSON: () => ({}),
    },
  ];
  window.__twobarPlayer = player;
  return player;
}

/** Puts the player into every page that `page` opens from now on. */
export async function addSimulatedPlayer(page: Page, pace = PACE): Promise<void> {
  // esbuild names functions through a helper that a page does not have.
  await page.addInitScript(
    `globalThis.__name ??= (value) => value; (${installSimulatedPlayer.toString()})(${PATH_SEC}, ${UNREPORTED_SEC}, ${pace});`,
  );
}

const asText = ({ buffer, byteOffset, byteLength }: Float32Array<ArrayBuffer>): string =>
  Buffer.from(buffer, byteOffset, byteLength).toString('base64');

/** {@link SimulatedPlayer.arm} from outside the page. */
export async function arm(page: Page, { pcm, ...rest }: Performance): Promise<void> {
  await page.evaluate(
    ({ base64, rest }) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      window.__twobarPlayer!.arm({ ...rest, pcm: new Float32Array(bytes.buffer) });
    },
    { base64: asText(pcm), rest },
  );
}

/** {@link SimulatedPlayer.playNow} from outside the page: soon after the call, however long the sound is. */
export async function playNow(page: Page, pcm: Float32Array<ArrayBuffer>, sampleRate: number): Promise<void> {
  await page.evaluate(
    ({ base64, rate }) => {
      const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      window.__twobarPlayer!.playNow(new Float32Array(bytes.buffer), rate);
    },
    { base64: asText(pcm), rate: sampleRate },
  );
}

/** Until so much of the app's own time has passed, s. */
export async function passing(page: Page, sec: number): Promise<void> {
  const until = await page.evaluate((more) => window.__twobarPlayer!.context!.currentTime + more, sec);
  await page.waitForFunction((at) => window.__twobarPlayer!.context!.currentTime >= at, until, {
    timeout: 60_000 + sec * 1000,
  });
}
