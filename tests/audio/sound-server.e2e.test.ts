import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startSoundLoop } from '../support/sound-loop.ts';
import type { SoundLoop } from '../support/sound-loop.ts';
import { hasSoundServer } from '../support/sound-server.ts';

describe.skipIf(!hasSoundServer())('a true loop through a sound server (needs pulseaudio)', () => {
  let loop: SoundLoop;
  let page: Page;
  beforeAll(async () => {
    loop = await startSoundLoop();
    page = loop.page;
  });
  afterAll(() => loop?.close());

  it('brings the loudspeaker’s clicks back into the microphone, later by one latency', async () => {
    const { devices, latencies } = await page.evaluate(async () => {
      const sound = await window.openSound();
      await sound.resume();
      await sound.openMicrophone({ instrument: 'guitar' });
      // The device settles for a moment after it was opened.
      await new Promise((done) => setTimeout(done, 1500));
      const rate = sound.sampleRate;
      const times = Array.from({ length: 9 }, (_, i) => 0.3 + 0.4 * i);
      const samples = new Float32Array(4 * rate);
      for (const time of times)
        for (let i = 0; i < rate / 200; i++)
          samples[Math.round(time * rate) + i] = 0.5 * Math.sin((2 * Math.PI * 1500 * i) / rate);
      sound.startRecording();
      const playback = sound.play({ samples, sampleRate: rate });
      await playback.ended;
      await new Promise((done) => setTimeout(done, 500));
      const recording = await sound.stopRecording();
      const latencies = times.map((time) => {
        const sent = playback.startFrame - recording.startFrame + Math.round(time * rate);
        return (
          recording.samples.subarray(sent, sent + 0.35 * rate).findIndex((x) => Math.abs(x) > 0.1) / rate
        );
      });
      return { devices: (await sound.devices()).map(({ label }) => label), latencies };
    });
    expect(devices.join()).toContain('Loop');
    const heard = latencies.filter((latency) => latency > 0).sort((a, b) => a - b);
    const median = heard[heard.length >> 1]!;
    // 81 to 125 ms on an idle machine. A loaded one buffers more and loses a click here or there, each loss moving
    // what follows by some milliseconds; most clicks come back, and at one latency.
    expect(median).toBeGreaterThan(0.02);
    expect(heard.filter((latency) => Math.abs(latency - median) < 0.015).length).toBeGreaterThanOrEqual(5);
  });
});
