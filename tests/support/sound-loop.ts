import { chromium } from 'playwright-core';
import type { Page } from 'playwright-core';
import { BROWSER_FLAGS, browserPath } from './browser.ts';
import { serveSoundPage } from './sound-page.ts';
import { AUDIBLE, startSoundServer } from './sound-server.ts';
import type { SoundServer } from './sound-server.ts';

/** A browser whose loudspeaker comes back into its microphone through a sound server. */
export interface SoundLoop {
  readonly server: SoundServer;
  readonly page: Page;
  close(): Promise<void>;
}

/** @param rate of the sound server, Hz; its own choice when left out */
export async function startSoundLoop(rate?: number): Promise<SoundLoop> {
  const server = await startSoundServer(rate);
  const begun: (() => Promise<void>)[] = [];
  const close = async (): Promise<void> => {
    for (const end of begun.reverse()) await end();
    server.close();
  };
  try {
    const served = await serveSoundPage();
    begun.push(served.close);
    const browser = await chromium.launch({
      executablePath: browserPath(),
      args: BROWSER_FLAGS,
      ignoreDefaultArgs: AUDIBLE,
      env: server.env,
    });
    begun.push(() => browser.close());
    const page = await browser.newPage();
    await page.goto(served.url);
    await page.waitForFunction(() => 'openSound' in window);
    return { server, page, close };
  } catch (error) {
    await close();
    throw error;
  }
}
