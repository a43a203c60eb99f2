import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openSound } from '../../src/audio/index.ts';
import type { LiveEvent, Recording, Sound } from '../../src/audio/index.ts';
import { installSimulatedPlayer, PATH_SEC } from '../support/simulated-player.ts';
import type { SimulatedPlayer } from '../support/simulated-player.ts';

let player: SimulatedPlayer;
let sound: Sound;
const RATE = 48_000;
const wait = (seconds: number): Promise<void> => new Promise((done) => setTimeout(done, seconds * 1000));

/** Short bursts at the given times: exact to find again. */
function bursts(times: readonly number[], lengthSec: number): Float32Array<ArrayBuffer> {
  const pcm = new Float32Array(Math.round(lengthSec * RATE));
  for (const time of times)
    for (let i = 0; i < 240; i++)
      pcm[Math.round(time * RATE) + i] = 0.5 * Math.sin((2 * Math.PI * 1500 * i) / RATE) * (1 - i / 240);
  return pcm;
}

/** Sample indices at which something begins after silence of at least 20 ms. */
function beginnings(samples: Float32Array): number[] {
  const found: number[] = [];
  let last = -Infinity;
  samples.forEach((x, i) => {
    if (Math.abs(x) < 0.02) return;
    if (i - last > 0.02 * RATE) found.push(i);
    last = i;
  });
  return found;
}

beforeAll(async () => {
  player = installSimulatedPlayer();
  sound = await openSound();
  await sound.resume();
});
afterAll(() => sound.close());

describe('the microphone', () => {
  let events: LiveEvent[] = [];
  beforeEach(async () => {
    events = [];
    sound.closeMicrophone();
    await sound.openMicrophone({ instrument: 'guitar' });
  });

  it('is asked for with all voice processing off, and says that it is off', () => {
    const audio = player.asked.at(-1)!.audio as MediaTrackConstraints;
    expect(audio.echoCancellation).toBe(false);
    expect(audio.noiseSuppression).toBe(false);
    expect(audio.autoGainControl).toBe(false);
    expect(sound.microphone!.processing).toEqual({
      echoCancellation: false,
      noiseSuppression: false,
      autoGainControl: false,
    });
    expect(sound.microphone!.problems).toEqual([]);
  });

  it('names processing that the browser would not switch off', async () => {
    const native = MediaStreamTrack.prototype.getSettings;
    MediaStreamTrack.prototype.getSettings = () => ({ autoGainControl: true });
    try {
      const info = await sound.openMicrophone({ instrument: 'guitar' });
      expect(info.problems).toContain('processing-not-off');
    } finally {
      MediaStreamTrack.prototype.getSettings = native;
    }
  });

  it('records a played buffer’s answer on one frame counter: spacing exact, one constant delay', async () => {
    const times = [0.3, 0.55, 0.9, 1.3];
    const playback = () => sound.play({ samples: new Float32Array(2 * RATE), sampleRate: RATE });
    const delays: number[] = [];
    // A machine that does other things meanwhile drops blocks, and says so: those takes are played again, not measured.
    for (let tried = 0; delays.length < 2 && tried < 10; tried++) {
      player.arm({ pcm: bursts(times, 1.5), sampleRate: RATE, lengthSec: 2, atSec: 0 });
      sound.startRecording();
      const { startFrame, ended } = playback();
      await ended;
      const recording = await sound.stopRecording();
      if (recording.gaps.length > 0) continue;
      const heard = beginnings(recording.samples).map(
        (i) => (recording.startFrame + i - startFrame) / recording.sampleRate,
      );
      expect(heard).toHaveLength(times.length);
      const delay = heard[0]! - times[0]!;
      heard.forEach((time, i) => expect(Math.abs(time - times[i]! - delay)).toBeLessThan(0.0005));
      delays.push(delay);
    }
    expect(delays).toHaveLength(2);
    // What simulated-player.ts calls PATH_SEC; a headless browser's block sizes move it by a few ms.
    for (const delay of delays) expect(Math.abs(delay - PATH_SEC)).toBeLessThan(0.015);
  });

  it('starts a buffer at the frame it names', async () => {
    player.bleed(0);
    const click = new Float32Array(RATE / 2);
    click[4800] = 0.9;
    sound.startRecording();
    const { startFrame, ended } = sound.play({ samples: click, sampleRate: sound.sampleRate });
    await ended;
    await wait(0.1);
    const { samples, startFrame: recorded } = await sound.stopRecording();
    player.bleed(-Infinity);
    const at = recorded + samples.findIndex((x) => Math.abs(x) > 0.3);
    expect(Math.abs((at - startFrame - 4800) / RATE - PATH_SEC)).toBeLessThan(0.015);
  });

  it('is never played back: what the player sounds does not reach the loudspeaker', async () => {
    // The leak carries all that goes to the destination back into the microphone: a live monitor would echo.
    player.bleed(0);
    sound.startRecording();
    player.playNow(bursts([0.1], 0.2), RATE);
    await wait(0.8);
    const { samples } = await sound.stopRecording();
    player.bleed(-Infinity);
    // One burst of 5 ms; an echo would follow it by the path's 21 ms.
    const loud = [...samples.keys()].filter((i) => Math.abs(samples[i]!) > 0.02);
    expect(loud.length).toBeGreaterThan(100);
    expect((loud.at(-1)! - loud[0]!) / RATE).toBeLessThan(0.01);
  });

  it('lists frames that never arrived as gaps of zeros', async () => {
    sound.startRecording();
    await wait(0.3);
    player.unplug();
    const { samples, gaps, sampleRate, startFrame } = await soundStopAfter(0.3);
    // In order, apart from one another and inside the recording, though a busy host adds short ones of its own.
    let end = startFrame;
    for (const [from, length] of gaps) {
      expect(from).toBeGreaterThanOrEqual(end);
      end = from + length;
    }
    expect(end - startFrame).toBeLessThanOrEqual(samples.length);
    // A stopped track may go on as silence, and nothing is missing; else nothing comes after it.
    const long = gaps.filter(([, length]) => length > 0.1 * sampleRate);
    for (const [from, length] of long)
      expect((samples.length - from - length) / sampleRate).toBeLessThan(0.02);
    expect(samples.every((x) => x === 0)).toBe(true);
  });

  it('reports level, an attack on the counter, and the unplugged microphone', async () => {
    const end = sound.onLive((event) => events.push(event));
    const at = player.playNow(pluck(110, 1), RATE, 0.3);
    await heard((event) => event.type === 'note');
    const onset = events.find((event) => event.type === 'onset');
    expect(onset && Math.abs(onset.atFrame / sound.sampleRate - at - PATH_SEC)).toBeLessThan(0.03);
    const name = events.find((event) => event.type === 'note');
    expect(name && name.midi).toBe(45);
    expect(events.some((event) => event.type === 'level' && event.peakDb > -20)).toBe(true);
    player.unplug();
    expect(events.at(-1)).toEqual({ type: 'problem', code: 'microphone-unplugged' });
    end();
  });

  it('says the level of an overdriven input', async () => {
    const end = sound.onLive((event) => events.push(event));
    player.playNow(
      bursts([0, 0.1], 0.3).map((x) => Math.max(-1, Math.min(1, 8 * x))),
      RATE,
    );
    await heard((event) => event.type === 'level' && event.clipped);
    end();
  });

  it('hears a recording in the worker, times counted from the zero frame', async () => {
    sound.startRecording();
    const at = player.playNow(pluck(110, 1), RATE, 0.3);
    await wait(1.5);
    const recording = await sound.stopRecording();
    const shares: number[] = [];
    const take = await sound.listen({
      recording,
      instrument: 'guitar',
      zeroFrame: Math.round(at * sound.sampleRate),
      reference: null,
      onProgress: (share) => shares.push(share),
    });
    expect(take.notes.map(({ midi }) => midi)).toEqual([45]);
    expect(Math.abs(take.notes[0]!.onsetSec - PATH_SEC)).toBeLessThan(0.03);
    expect(shares.at(-1)).toBe(1);
  });

  it('refuses a recording of nothing as no stream', async () => {
    const empty: Recording = { samples: new Float32Array(0), sampleRate: RATE, startFrame: 0, gaps: [] };
    const { heard } = await sound.listen({
      recording: empty,
      instrument: 'guitar',
      zeroFrame: 0,
      reference: null,
    });
    expect(heard).toMatchObject({ verdict: 'refused', reason: 'no-stream' });
  });

  /** Waits for an event: a machine under load may be slow to start the worker. */
  const heard = (wanted: (event: LiveEvent) => boolean): Promise<void> =>
    expect.poll(() => events.some(wanted), { timeout: 20_000 }).toBe(true);

  async function soundStopAfter(seconds: number): Promise<Recording> {
    await wait(seconds);
    return sound.stopRecording();
  }
});

describe('a refused or missing microphone', () => {
  it.each([
    ['NotAllowedError', 'permission-refused'],
    ['NotFoundError', 'no-microphone'],
    ['OverconstrainedError', 'no-microphone'],
    ['NotReadableError', 'microphone-busy'],
  ])('%s is named %s', async (name, code) => {
    const working = navigator.mediaDevices.getUserMedia;
    navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', name));
    try {
      await expect(sound.openMicrophone({ instrument: 'guitar' })).rejects.toMatchObject({ code });
      expect(sound.microphone).toBeNull();
      expect(() => sound.startRecording()).toThrow(/openMicrophone first/);
    } finally {
      navigator.mediaDevices.getUserMedia = working;
    }
  });
});

describe('playing', () => {
  it('ends by itself as finished, by hand as stopped, and says where it is', async () => {
    const second = { samples: new Float32Array(RATE / 2), sampleRate: RATE };
    const whole = sound.play(second);
    await expect(whole.ended).resolves.toBe('finished');
    expect(whole.positionSec()).toBeGreaterThan(0.3);
    const part = sound.play(second, { fromSec: 0.25 });
    expect(part.positionSec()).toBe(0.25);
    part.stop();
    await expect(part.ended).resolves.toBe('stopped');
    expect(() => sound.play(second, { fromSec: 2 })).toThrow(/starts within its 0.5 s, got 2/);
  });

  it('tells of a context that was suspended', async () => {
    const events: LiveEvent[] = [];
    const end = sound.onLive((event) => events.push(event));
    await player.context!.suspend();
    await wait(0.05);
    expect(sound.state).toBe('suspended');
    expect(events).toContainEqual({ type: 'problem', code: 'context-suspended' });
    await sound.resume();
    expect(sound.state).toBe('running');
    end();
  });
});

/** A plucked string by Karplus and Strong, bright enough for any listener. */
function pluck(hertz: number, seconds: number): Float32Array<ArrayBuffer> {
  const period = Math.round(RATE / hertz - 0.5);
  let state = 7;
  const loop = Float32Array.from({ length: period }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return 0.5 * (state / 2 ** 31 - 1);
  });
  const out = new Float32Array(seconds * RATE);
  for (let i = 0; i < out.length; i++) {
    out[i] = loop[i % period]!;
    loop[i % period] = 0.498 * (loop[i % period]! + loop[(i + 1) % period]!);
  }
  return out;
}
