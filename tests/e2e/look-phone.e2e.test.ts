import { afterAll, beforeAll, describe, it } from 'vitest';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { LONG, lookAt, PHONE } from './look.ts';

describe('all screens of the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp({ pace: 1 });
  }, 180_000);
  afterAll(() => app.close());

  it(
    `print no text over another and cut none off in any language, and give axe nothing to find, at ${PHONE.width} × ${PHONE.height}`,
    { timeout: LONG },
    () => lookAt(app, PHONE),
  );
});
