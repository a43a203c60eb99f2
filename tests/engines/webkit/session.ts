import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { Builder, Capabilities, type WebDriver } from 'selenium-webdriver';
import type { WebKit } from '../../support/engines.ts';

/** One window of WebKitGTK's MiniBrowser, on a display that nobody sees. */
export interface WebKitSession {
  readonly driver: WebDriver;
  close(): Promise<void>;
}

/** What Xvfb writes once it is up: the number of its display. */
async function displayOf(server: ChildProcess): Promise<string> {
  const [number] = (await once(server.stdout!, 'data')) as [Buffer];
  return `:${String(number).trim()}`;
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

/** Until the driver answers, 10 s at the most. */
async function answering(url: string): Promise<void> {
  for (let tries = 0; tries < 100; tries++) {
    if (
      await fetch(`${url}/status`).then(
        ({ ok }) => ok,
        () => false,
      )
    )
      return;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error('WebKitWebDriver did not answer within 10 s');
}

/** @param env of the browser: which sound server it speaks to */
export async function openWebKit(
  { driver: program, browser, display }: WebKit,
  env: Record<string, string>,
): Promise<WebKitSession> {
  const screen = spawn(display, ['-displayfd', '1', '-screen', '0', '1600x1200x24', '-nolisten', 'tcp'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const port = await freePort();
  const url = `http://127.0.0.1:${port}`;
  const server = spawn(program, ['-p', `${port}`, '--host=127.0.0.1'], {
    env: {
      ...env,
      DISPLAY: await displayOf(screen),
      GDK_BACKEND: 'x11',
      LIBGL_ALWAYS_SOFTWARE: '1',
      NO_AT_BRIDGE: '1',
    },
    stdio: 'ignore',
  });
  const close = async (driver?: WebDriver): Promise<void> => {
    await driver?.quit().catch(() => undefined);
    server.kill();
    screen.kill();
  };
  try {
    await answering(url);
    const args = ['--automation', '--enable-media-stream=true'];
    const driver = await new Builder()
      .usingServer(url)
      .withCapabilities(
        new Capabilities({
          browserName: 'MiniBrowser',
          'webkitgtk:browserOptions': { binary: browser, args },
        }),
      )
      .build();
    await driver.manage().setTimeouts({ script: 120_000, pageLoad: 120_000 });
    return { driver, close: () => close(driver) };
  } catch (error) {
    await close();
    throw error;
  }
}
