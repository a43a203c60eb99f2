import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWav } from '../../src/exchange/index.ts';
import { BROWSER_FLAGS, browserPath } from '../support/browser.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { note, sheet } from '../support/sheets.ts';
import { serveSoundPage } from '../support/sound-page.ts';

/** Notes of a recorded guitar, rests between: [time, MIDI]. */
const PLAYED = [
  [0.8, 45],
  [1.4, 48],
  [2.0, 52],
  [2.6, 50],
] as const;

describe('the built sound, under a path, with a strict policy, in front of the browser’s own microphone', () => {
  let browser: Browser;
  let page: Page;
  let close: () => Promise<void>;
  const complaints: string[] = [];

  beforeAll(async () => {
    const [take] = await nodeRenderer().render(
      [
        sheet(
          4,
          PLAYED.map(([at, pitch]) => note(at, pitch, 0.4)),
        ),
      ],
      {
        sampleRate: 48_000,
      },
    );
    const wav = join(mkdtempSync(join(tmpdir(), 'twobar-mic-')), 'take.wav');
    writeFileSync(wav, writeWav(take!.samples, 48_000));
    const served = await serveSoundPage();
    close = served.close;
    browser = await chromium.launch({
      executablePath: browserPath(),
      args: [
        ...BROWSER_FLAGS,
        '--use-fake-device-for-media-stream',
        `--use-file-for-fake-audio-capture=${wav}%noloop`,
      ],
    });
    page = await browser.newPage();
    page.on('console', (message) => void (message.type() === 'error' && complaints.push(message.text())));
    page.on('pageerror', (error) => void complaints.push(String(error)));
    await page.goto(served.url);
    await page.waitForFunction(() => 'openSound' in window);
  });
  afterAll(async () => {
    await browser?.close();
    await close?.();
  });

  it('opens it with processing off, records its file and hears every note in it', async () => {
    const result = await page.evaluate(async () => {
      const sound = await window.openSound();
      await sound.resume();
      const info = await sound.openMicrophone({ instrument: 'guitar' });
      sound.startRecording();
      await new Promise((done) => setTimeout(done, 4200));
      const recording = await sound.stopRecording();
      const take = await sound.listen({
        recording,
        instrument: 'guitar',
        zeroFrame: recording.startFrame,
        reference: null,
      });
      const devices = await sound.devices();
      return { info, take, devices, gaps: recording.gaps };
    });
    expect(result.info.processing).toEqual({
      echoCancellation: false,
      noiseSuppression: false,
      autoGainControl: false,
    });
    expect(result.devices.map(({ deviceId }) => deviceId)).toContain(result.info.deviceId);
    const { notes } = result.take;
    // A starved machine makes the browser's fake device stutter, which may double a note but not move or change it.
    expect(new Set(notes.map(({ midi }) => midi))).toEqual(new Set(PLAYED.map(([, pitch]) => pitch)));
    for (const [at, pitch] of PLAYED) {
      const place = notes[0]!.onsetSec + at - PLAYED[0][0];
      expect(notes.some(({ midi, onsetSec }) => midi === pitch && Math.abs(onsetSec - place) < 0.05)).toBe(
        true,
      );
    }
  });

  it('finds its sounds and renders with them', async () => {
    const { frames, peak } = await page.evaluate(async () => {
      const sound = await window.openSound();
      await sound.preload();
      const cue = { type: 'drum', piece: 'kick', atSec: 0.2, velocity: 1 } as never;
      const { samples } = await sound.render({ durationSec: 1 as never, cues: [cue], marks: [] });
      return { frames: samples.length, peak: samples.reduce((top, x) => Math.max(top, Math.abs(x)), 0) };
    });
    expect(frames).toBeGreaterThanOrEqual(44_100);
    expect(peak).toBeGreaterThan(0.1);
  });

  it('does so without a word of complaint from the policy', () => {
    expect(complaints).toEqual([]);
  });
});
