import { spawnSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeTest } from '../../../src/tests-engine/index.ts';
import { sounding, soundsSoFar } from '../../e2e/pages.ts';
import { playedTake } from '../../e2e/takes.ts';
import { arm } from '../../support/simulated-player.ts';
import { hasWebKit, serveInWebKit, type WebKitApp } from './app.ts';

const MELODY = makeTest({ kind: 'melody', level: 2, seed: 20261124, instrument: 'guitar' });
const RHYTHM = makeTest({ kind: 'rhythm', level: 2, seed: 4711, instrument: 'guitar' });
const CURRENT = 'li[aria-current="step"]';

/**
 * With headphones: over loudspeakers the way through GStreamer must stand still for the backing to be taken out of what is
 * heard, and without real-time priority it grows by up to 40 ms in a take on a busy machine.
 */
describe.skipIf(!hasWebKit)('whole tests in WebKitGTK through its own microphone and a sound server', () => {
  let app: WebKitApp;
  beforeAll(async () => {
    app = await serveInWebKit(-Infinity);
  });
  afterAll(() => app?.close());

  const texts = (css: string): Promise<string[]> =>
    app.page.evaluate((at) => [...document.querySelectorAll(at)].map((one) => one.textContent.trim()), css);
  /** The take has its mark; else the page says why not. */
  const marked = async (): Promise<void> => {
    const said = (await texts('main')).join();
    expect(Number((await texts('p.number'))[0]), said).toBeGreaterThanOrEqual(95);
  };
  const onward = (): Promise<void> => app.press('PageDown');
  /** From the hearing past the practice window into the take. */
  const straightToThePlaying = async (): Promise<void> => {
    await onward();
    await app.says('Find it', CURRENT);
    await onward();
    await app.says('Play', CURRENT);
  };

  it('marks a melody played with headphones, heard from the key to the mark', async () => {
    await app.remember({ manner: 'relaxed', output: 'headphones' });
    await app.open('#/start/melody/2/20261124');
    await app.says('What would you like', 'main h1');
    await onward();
    // The way is not measured: neither with an earcup nor with four notes.
    await app.says('How late does the sound come back?', 'main h1');
    await onward();
    await app.says('Are the headphones off your head?', 'main h1');
    await app.press('PageUp');
    await app.says('Play four notes with the click', 'main h1');
    await app.press('PageUp');
    await sounding(app.page);
    app.server.hurry();
    await arm(app.page, await playedTake(MELODY));
    for (const word of ['Listen', 'Again', 'Find it']) await app.says(word, CURRENT);
    await onward();
    await app.says('Play', CURRENT);
    await app.says('Next test', 'main button');
    await marked();
    expect(new Set(await texts('details tbody tr td:nth-child(2)'))).toEqual(new Set(['right']));
    await app.there('.marked .engraved svg .vf-notehead');
  });

  it('marks a rhythm played with headphones, asks which it was and says whether that is so', async () => {
    const before = await soundsSoFar(app.page);
    await app.open('#/start/rhythm/2/4711');
    await app.says('What would you like', 'main h1');
    await onward();
    await sounding(app.page, before);
    app.server.hurry();
    await arm(app.page, await playedTake(RHYTHM));
    await onward();
    await app.says('Find it', CURRENT);
    await onward();
    await app.says('Play', CURRENT);
    await app.says('Which rhythm was it?', 'main h1');
    await app.there('.question .engraved svg');
    const key = RHYTHM.question!.answer === 'A' ? 'PageUp' : 'PageDown';
    await app.press(key);
    await app.press(key);
    await app.says('Next test', 'main button');
    await marked();
    await app.says(`You chose ${RHYTHM.question!.answer}. That is the rhythm.`);
  });

  it('does not mark silence', async () => {
    const before = await soundsSoFar(app.page);
    await app.open('#/start/melody/1/3');
    await app.says('What would you like', 'main h1');
    await onward();
    await sounding(app.page, before);
    await straightToThePlaying();
    await app.says('Not marked');
    expect(await texts('p.number')).toEqual([]);
  });

  /** This browser does not end the track where the source goes: all that comes is silence. */
  it('does not mark a take in which the sound server’s microphone is pulled out', async () => {
    await app.open('#/');
    const before = await soundsSoFar(app.page);
    await app.open('#/start/melody/1/1');
    await app.says('What would you like', 'main h1');
    await onward();
    await sounding(app.page, before);
    await straightToThePlaying();
    const { status } = spawnSync('pactl', ['unload-module', 'module-remap-source'], { env: app.server.env });
    expect(status).toBe(0);
    await app.says('Not marked');
    await app.says('Nothing was heard.');
    expect(await texts('p.number')).toEqual([]);
  });

  it('breaks no rule of its own policy and throws nothing along the way', async () => {
    expect(await app.problems()).toEqual([]);
  });
});
