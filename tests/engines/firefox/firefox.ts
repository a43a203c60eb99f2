import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { firefox } from 'playwright-core-bidi';
import { expect } from 'vitest';
import { serveBuiltApp, type ServedApp } from '../../e2e/app.ts';
import { PATIENCE } from '../../e2e/patience.ts';
import { firefoxPath } from '../../support/engines.ts';
import { startSoundServer, type SoundServer } from '../../support/sound-server.ts';

const path = firefoxPath();
export const hasFirefox = path !== null;

/** The built app in Firefox, whose loudspeaker and microphone are a sound server's. */
export interface FirefoxApp extends ServedApp {
  readonly server: SoundServer;
  /** The next file that Firefox saves, once it is whole. */
  downloaded(begin: () => Promise<void>): Promise<Uint8Array<ArrayBuffer>>;
}

/**
 * Debian's Firefox over WebDriver BiDi. Newer versions of Playwright ask for a command that Firefox ESR 153 does not know
 * (`emulation.setMediaFeaturesOverride`), so one from before it drives this browser, beside the one for Chromium.
 * @param options.pace as of {@link serveBuiltApp}
 * @param options.player what is put at the microphone, when it is not the simulated player
 */
export async function serveInFirefox(
  options: { pace?: number; player?: (page: Page) => Promise<void> } = {},
): Promise<FirefoxApp> {
  const server = await startSoundServer();
  const folder = mkdtempSync(join(tmpdir(), 'twobar-firefox-'));
  const launch = (): Promise<Browser> =>
    firefox.launch({
      channel: 'moz-firefox',
      executablePath: path!,
      headless: true,
      env: server.env,
      downloadsPath: folder,
      firefoxUserPrefs: {
        // Nobody is there to answer.
        'media.navigator.permission.disabled': true,
        'media.autoplay.default': 0,
        'media.autoplay.blocking_policy': 0,
        'dom.disable_open_during_load': false,
        'dom.events.testing.asyncClipboard': true,
        // The sound server's microphone, not a made-up one.
        'media.navigator.streams.fake': false,
      },
    }) as unknown as Promise<Browser>;
  const app = await serveBuiltApp({ ...options, launch });
  return {
    ...app,
    server,
    async downloaded(begin) {
      const before = new Set(readdirSync(folder));
      const whole = (): string | undefined => {
        const files = readdirSync(folder).filter((name) => !before.has(name));
        return files.some((name) => name.endsWith('.part')) ? undefined : files[0];
      };
      await begin();
      await expect.poll(whole, PATIENCE).toBeDefined();
      return new Uint8Array(readFileSync(join(folder, whole()!)));
    },
    async close() {
      await app.close();
      server.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
