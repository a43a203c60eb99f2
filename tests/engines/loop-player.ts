import type { Page } from 'playwright-core';
import type { Performance } from '../support/simulated-player.ts';

/**
 * A simulated player who sounds where a real one does: out of the loudspeaker of a sound server whose loudspeaker is its
 * microphone. The app's getUserMedia, its device and the way between them are the browser's own. What he plays is put on the
 * app's context with the buffer that it belongs to, so he is punctual to what is heard in the room, as long as the way may be.
 *
 * He answers to `arm` and `started` of {@link SimulatedPlayer}, so the helpers of the simulated player find him.
 */
export interface LoopPlayer {
  context: AudioContext | null;
  readonly started: { readonly startSec: number; readonly offsetSec: number; readonly lengthSec: number }[];
  arm(performance: Performance): void;
  /** How loud the app itself leaves the loudspeaker, dB; −Infinity: the student wears headphones. */
  loudspeaker(gainDb: number): void;
  /** How long a tick takes from the loudspeaker to the app's microphone, seconds, just now. */
  way(): Promise<number>;
}

/**
 * Runs in the page before the app. Self-contained: it is also sent as text.
 * @param gainDb how loud the app itself leaves the loudspeaker at first
 */
export function installLoopPlayer(gainDb: number): LoopPlayer {
  const NativeContext = window.AudioContext;
  const nativeStart = AudioBufferSourceNode.prototype.start;
  const nativeConnect = AudioNode.prototype.connect;
  const own = new WeakSet<AudioNode>();
  const gainOf = (db: number): number => 10 ** (db / 20);
  let app: GainNode | null = null;
  let hand: GainNode | null = null;
  /** Hears what the hand plays and what the app's microphone gives of it. */
  let witness: AnalyserNode | null = null;
  let armed: Performance[] = [];

  function sound(pcm: Float32Array<ArrayBuffer>, sampleRate: number, atSec: number): void {
    const context = player.context!;
    const buffer = context.createBuffer(1, pcm.length, sampleRate);
    buffer.copyToChannel(pcm, 0);
    const source = context.createBufferSource();
    own.add(source);
    source.buffer = buffer;
    source.connect(hand!);
    nativeStart.call(source, Math.max(0, atSec), Math.max(0, context.currentTime - atSec));
  }
  const player: LoopPlayer = {
    context: null,
    started: [],
    arm: (performance) => void armed.push(performance),
    loudspeaker(db) {
      gainDb = db;
      if (app) app.gain.value = gainOf(db);
    },
    async way() {
      const context = player.context!;
      const { sampleRate } = context;
      const heard = new Float32Array(witness!.fftSize);
      const next = (from: number): number => heard.findIndex((x, i) => i >= from && Math.abs(x) > 0.2);
      for (let tries = 0; tries < 10; tries++) {
        const at = context.currentTime + 0.1;
        sound(new Float32Array(20).fill(0.5), sampleRate, at);
        while (context.currentTime < at + 0.6) {
          await new Promise((done) => setTimeout(done, 30));
          witness!.getFloatTimeDomainData(heard);
          const sent = next(0);
          const came = sent < 0 ? -1 : next(sent + 100);
          if (came >= 0) return (came - sent) / sampleRate;
        }
      }
      throw new Error('the player was not heard at the microphone');
    },
  };
  window.AudioContext = class extends NativeContext {
    constructor(options?: AudioContextOptions) {
      super(options);
      player.context = this;
      app = this.createGain();
      app.gain.value = gainOf(gainDb);
      hand = this.createGain();
      witness = this.createAnalyser();
      witness.fftSize = 32_768;
      for (const node of [app, hand]) nativeConnect.call(node, this.destination as unknown as AudioParam);
      nativeConnect.call(hand, witness as unknown as AudioParam);
    }
  };
  AudioBufferSourceNode.prototype.start = function (when = 0, offset = 0, ...rest: number[]) {
    nativeStart.call(this, when, offset, ...(rest as [number?]));
    if (this.context !== player.context || own.has(this)) return;
    const lengthSec = this.buffer?.duration ?? 0;
    player.started.push({ startSec: when, offsetSec: offset, lengthSec });
    const match = armed.find(
      (each) => each.lengthSec === undefined || Math.abs(each.lengthSec - lengthSec) < 0.005,
    );
    if (!match) return;
    armed = armed.filter((each) => each !== match);
    sound(match.pcm, match.sampleRate, when - offset + match.atSec);
  };
  AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode | AudioParam, ...rest: number[]) {
    const ours = this.context === player.context;
    if (ours && this instanceof MediaStreamAudioSourceNode)
      nativeConnect.call(this, witness as unknown as AudioParam);
    return (nativeConnect as (...all: unknown[]) => unknown).call(
      this,
      ours && to instanceof AudioDestinationNode ? app : to,
      ...rest,
    );
  } as typeof AudioNode.prototype.connect;
  Object.assign(window, { __twobarPlayer: player });
  return player;
}

/** The script that puts the player into a page. */
export const loopPlayerScript = (gainDb: number): string =>
  `globalThis.__name ??= (value) => value; (${installLoopPlayer.toString()})(${gainDb === -Infinity ? '-Infinity' : gainDb});`;

/** Puts the player into every page that `page` opens from now on. */
export const addLoopPlayer = (page: Page, gainDb: number): Promise<void> =>
  page.addInitScript(loopPlayerScript(gainDb)).then(() => undefined);
