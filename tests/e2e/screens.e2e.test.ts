import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { t } from '../../src/ui/messages.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { beginLinked, heading, onward, PATIENCE, remember, straightToTheTake } from './pages.ts';

const CHECKED = { manner: 'relaxed' } as const;

describe('the screens of the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('show the current word of a test at 8 % of the window’s height or more, wide and narrow', async () => {
    for (const viewport of [
      { width: 1280, height: 800 },
      { width: 390, height: 844 },
    ]) {
      const { page, context } = await app.page({ viewport });
      await remember(page, CHECKED);
      await page.goto(`${app.url}#/start/melody/1/1`);
      await heading(page, 'What would you like');
      await onward(page);
      await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
      const word = page.locator('.steps .word');
      const box = (await word.boundingBox())!;
      expect(box.height / viewport.height).toBeGreaterThanOrEqual(0.08);
      expect(box.x + box.width).toBeLessThanOrEqual(viewport.width);

      // The volumes fold out over the page; arrows move a slider, and the pedal's keys stay the pedal's on it.
      const volume = page.locator('.test summary', { hasText: t('settings.volume') });
      await volume.click();
      const slider = page.getByRole('slider', { name: t('settings.volume.backing') });
      const panel = (await page.locator('.test details .panel').boundingBox())!;
      expect(panel.y).toBeGreaterThanOrEqual(0);
      expect(panel.x + panel.width).toBeLessThanOrEqual(viewport.width);
      await slider.focus();
      await page.keyboard.press('ArrowLeft');
      await page.keyboard.press('ArrowLeft');
      expect(await slider.inputValue()).toBe('-6');
      await page.keyboard.press('PageDown');
      await page.locator('li[aria-current="step"]', { hasText: t('step.practice') }).waitFor(PATIENCE);
      expect(await slider.inputValue()).toBe('-6');
      await page.keyboard.press('Escape');
      await slider.waitFor({ ...PATIENCE, state: 'hidden' });
      expect(await volume.evaluate((summary) => summary === document.activeElement)).toBe(true);
      await context.close();
    }
  });

  it('open without a network once the first one has rested, with nothing kept for use offline', async () => {
    const { page, context } = await app.page({ fetchesAhead: true });
    await remember(page, CHECKED);
    const fetched: string[] = [];
    page.on('requestfinished', (request) => fetched.push(request.url()));
    await page.goto(app.url);
    await heading(page, 'What would you like');
    // The last that is fetched ahead.
    await expect.poll(() => fetched.some((url) => /Licences-.*\.js/.test(url)), PATIENCE).toBe(true);
    await page.waitForLoadState('networkidle');
    await context.setOffline(true);
    for (const [hash, title] of [
      ['#/teacher', 'Teacher’s desk'],
      ['#/progress', 'Progress'],
      ['#/data', 'Data'],
      ['#/phrases', 'My phrases'],
      ['#/about', 'About Twobar'],
      ['#/licences', 'Licences'],
    ] as const) {
      await page.evaluate((to) => (location.hash = to), hash);
      await heading(page, title);
    }
    expect(fetched.filter((url) => /vexflow|bravura/.test(url))).toHaveLength(2);
    await context.close();
  });

  it('say what to do when the microphone is refused, missing or busy', async () => {
    for (const [name, text] of [
      ['NotAllowedError', 'not allowed for this page'],
      ['NotFoundError', 'No microphone was found'],
      ['NotReadableError', 'Another program is using the microphone'],
    ] as const) {
      const { page, context } = await app.page();
      await remember(page, CHECKED);
      await page.addInitScript((error) => {
        navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', error));
      }, name);
      await page.goto(app.url);
      await heading(page, 'What would you like');
      await onward(page);
      await page.getByRole('alert').getByText(text).waitFor(PATIENCE);
      await page.getByRole('button', { name: 'Try again' }).waitFor(PATIENCE);
      await context.close();
    }
  });

  it('open the usual microphone where the one used last is gone, and offer the choice', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { ...CHECKED, deviceId: 'pulled-out' });
    await page.addInitScript(() => {
      const { mediaDevices } = navigator;
      const real = mediaDevices.getUserMedia.bind(mediaDevices);
      mediaDevices.getUserMedia = (wanted) => {
        const { audio } = wanted as { audio: MediaTrackConstraints };
        if (!audio.deviceId) return real(wanted);
        // As W3C Media Capture and Streams names it.
        return Promise.reject(Object.assign(new Error('no'), { name: 'OverconstrainedError' }));
      };
    });
    await beginLinked(page, app, 'melody/1/1');
    await page.goto(`${app.url}#/check`);
    for (const title of ['Before you play', 'What do you play?']) {
      await heading(page, title);
      await onward(page);
    }
    await heading(page, 'Which microphone');
    await page.locator('option', { hasText: 'used last (not connected)' }).waitFor({
      ...PATIENCE,
      state: 'attached',
    });
    expect(problems).toEqual([]);
    await context.close();
  });

  it('say that the sound is paused where no output ever lets it begin', async () => {
    const { page, context } = await app.page();
    await remember(page, CHECKED);
    await page.addInitScript(() => {
      AudioContext.prototype.resume = () => new Promise(() => undefined);
      Object.defineProperty(BaseAudioContext.prototype, 'state', { get: () => 'suspended' });
    });
    await page.goto(app.url);
    await heading(page, 'What would you like');
    await onward(page);
    await page.getByRole('alert').getByText('The browser has paused the sound').waitFor(PATIENCE);
    await context.close();
  });

  it('say so, and nothing else, in a browser that is too old', async () => {
    const { page, context, problems } = await app.page();
    await page.addInitScript(() => Reflect.deleteProperty(window, 'CompressionStream'));
    await page.goto(app.url);
    await page.getByRole('alert').getByText('This browser is too old').waitFor(PATIENCE);
    expect(await page.locator('#app').innerHTML()).toBe('');
    expect(problems).toEqual([]);
    await context.close();
  });

  it('say so in a browser without AudioWorklet', async () => {
    const { page, context } = await app.page();
    await remember(page, CHECKED);
    await page.addInitScript(() => {
      Reflect.deleteProperty(window, 'AudioWorkletNode');
      Reflect.deleteProperty(BaseAudioContext.prototype, 'audioWorklet');
    });
    await page.goto(app.url);
    await heading(page, 'What would you like');
    await onward(page);
    await page.getByRole('alert').getByText('cannot listen closely enough').waitFor(PATIENCE);
    await context.close();
  });

  it('void a take when the microphone is pulled in it, and say that nothing is marked', async () => {
    const { page, context } = await app.page();
    await remember(page, CHECKED);
    await beginLinked(page, app, 'melody/1/1');
    await straightToTheTake(page);
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    await page.getByText('That take does not count').waitFor(PATIENCE);
    await page
      .getByRole('alert')
      .getByText('The microphone was disconnected while you played.')
      .waitFor(PATIENCE);
    await page.getByRole('alert').getByText('Nothing is marked.').waitFor(PATIENCE);
    await context.close();
  });

  it('stop a test without cost when the page is hidden while listening', async () => {
    const { page, context } = await app.page();
    await remember(page, CHECKED);
    await beginLinked(page, app, 'melody/1/1');
    await page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await page.getByRole('alert').getByText('It cost you nothing').waitFor(PATIENCE);
    await context.close();
  });

  it('open again without a network after the first load', async () => {
    const { page, context } = await app.page({ serviceWorkers: 'allow' });
    await page.goto(app.url);
    await heading(page, 'What would you like');
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.waitForFunction(async () => (await caches.keys()).length > 0, null, PATIENCE);
    await page.reload();
    await heading(page, 'What would you like');
    await context.setOffline(true);
    await page.reload();
    await heading(page, 'What would you like');
    await page.goto(`${app.url}#/licences`);
    await page.getByText('Literata').first().waitFor(PATIENCE);
    await context.close();
  });
});
