import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { chromium, type Page } from 'playwright-core';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { writeWav } from '../../src/exchange/index.ts';
import build, { OUT } from '../e2e/build.ts';
import { BROWSER_FLAGS, browserPath, wholeBrowserPath } from '../support/browser.ts';
import { onlyNamedByIndex } from '../support/firstVisit.ts';
import { addSimulatedPlayer } from '../support/simulated-player.ts';
import { serveSoundPage } from '../support/sound-page.ts';
import { figuresOf } from './figures.ts';
import { serveCompressed, type Host } from '../support/compressed-host.ts';
import { weakened } from './pages/weak.ts';
import { fftMicroseconds, QUIET_CORE_US } from './yardstick.ts';

/**
 * What a weak machine makes of the built app, and what a first visit fetches:
 *   npm run bench:pages -- [--no-lighthouse] [--write]
 * Weak is told from the quiet core of the yardstick: a machine that is slow just now is throttled by the less.
 * Medians of three. Lighthouse is fetched by npx, as it is larger than all of our own packages together.
 */
const LIGHTHOUSE = 'lighthouse@12.8.2';
const RUNS = 3;
const TAKE_SEC = 30;
const RATE = 48_000;
const WAIT = { timeout: 120_000 };
figuresOf('pages', 'bench:pages');
const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
const kB = (bytes: number): string => `${(bytes / 1000).toFixed(0)} kB`;

await build();
const host = await serveCompressed(OUT);
const browser = await chromium.launch({ executablePath: browserPath(), args: BROWSER_FLAGS });

interface Throttled {
  /** The quiet core of the yardstick is so many times as fast as what is asked for … */
  readonly factor: number;
  /** … and this machine so many times as fast, as it is just now; 1 where it is slow enough as it is. */
  readonly by: number;
  readonly fftUs: number;
}
function throttled(factor: number): Throttled {
  const fftUs = fftMicroseconds();
  return { factor, by: Math.max(1, (factor * QUIET_CORE_US) / fftUs), fftUs };
}
const told = ({ factor, by, fftUs }: Throttled): string =>
  `${factor} × slower | ${fftUs.toFixed(0)} µs, ${by === 1 ? 'as it is' : `throttled ${by.toFixed(1)} ×`}`;

/** A page of a browser that was never here, its own thread `factor` times as slow. */
async function visitor(factor: number, serviceWorkers: 'allow' | 'block' = 'block') {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers });
  const page = await context.newPage();
  await (await context.newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate: factor });
  return { page, context };
}
/** The first page can be used: what begins a test is there and answers. */
const usable = (page: Page): Promise<void> =>
  page.locator('main h1', { hasText: 'What would you like' }).waitFor(WAIT);

async function firstPage(factor: number): Promise<number> {
  const { page, context } = await visitor(factor);
  const from = performance.now();
  await page.goto(host.url, { waitUntil: 'commit' });
  await usable(page);
  const ms = performance.now() - from;
  await context.close();
  return ms;
}
/** From the press that begins a test to its first sound. */
async function testReady(factor: number): Promise<number> {
  const { page, context } = await visitor(factor);
  await addSimulatedPlayer(page, 1);
  await page.addInitScript(() => localStorage.setItem('twobar.settings', JSON.stringify({ checked: true })));
  await page.goto(`${host.url}#/start/melody/1/1`);
  await usable(page);
  const from = performance.now();
  await page.keyboard.press('PageDown');
  await page.waitForFunction(() => (window.__twobarPlayer?.started.length ?? 0) > 0, null, WAIT);
  const ms = performance.now() - from;
  await context.close();
  return ms;
}
/** The longest of some presses on the first page, from the press to the next picture (Event Timing, steps of 8 ms). */
async function interaction(factor: number): Promise<number> {
  const { page, context } = await visitor(factor);
  await page.addInitScript(() => {
    Object.assign(window, { slowest: 0 });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries())
        Object.assign(window, { slowest: Math.max(Reflect.get(window, 'slowest') as number, duration) });
    }).observe({ type: 'event', durationThreshold: 16 } as PerformanceObserverInit);
  });
  await page.goto(host.url);
  await usable(page);
  await page.waitForLoadState('networkidle');
  for (const name of ['Rhythm', 'Melody', '7', '3', '10', 'With help'])
    await page
      .locator('main label', { hasText: new RegExp(`^\\s*${name}`) })
      .first()
      .click(WAIT);
  await page.waitForTimeout(500);
  const ms = await page.evaluate(() => Reflect.get(window, 'slowest') as number);
  await context.close();
  return ms;
}
async function repeated(measure: (factor: number) => Promise<number>, factor: number): Promise<number> {
  const all: number[] = [];
  for (let i = 0; i < RUNS; i++) all.push(await measure(factor));
  return median(all);
}

async function bytes(): Promise<[first: number, idle: number, whole: number]> {
  const nothing = host.sentBytes();
  const alone = await visitor(1);
  await onlyNamedByIndex(alone.page, OUT);
  await alone.page.goto(host.url, { waitUntil: 'commit' });
  await usable(alone.page);
  await alone.page.waitForLoadState('networkidle');
  const first = host.sentBytes() - nothing;
  await alone.context.close();

  const before = host.sentBytes();
  const { page, context } = await visitor(1, 'allow');
  await page.goto(host.url, { waitUntil: 'commit' });
  await usable(page);
  await page.waitForLoadState('networkidle');
  const idle = host.sentBytes() - before;
  for (let last = -1; last !== host.sentBytes();) {
    last = host.sentBytes();
    await page.waitForTimeout(3000);
  }
  const whole = host.sentBytes() - before;
  await context.close();
  return [first, idle, whole];
}

/** Half a minute of recorded notes at the real getUserMedia of a machine that is weak as a whole. */
async function take(
  factor: number,
): Promise<{ lost: number; blocks: number; ms: number; notes: number } | null> {
  const weak = weakened(wholeBrowserPath(), factor);
  if (!weak) return null;
  const folder = mkdtempSync(join(tmpdir(), 'twobar-take-'));
  const wav = join(folder, 'take.wav');
  const plan = Array.from({ length: 50 }, (_, i) => ({
    ...{ onsetSec: 0.5 + 0.55 * i, durationSec: 0.45, midi: 45 + ((7 * i) % 20), levelDb: 0 },
  }));
  const { signal } = perform(plan, await loadNpmBank('electric'), {
    ...{ sampleRate: RATE, durationSec: TAKE_SEC + 5, random: makeRandom(7) },
  });
  writeFileSync(wav, writeWav(signal, RATE));
  const served = await serveSoundPage();
  const slow = await chromium.launch({
    executablePath: weak.path,
    args: [
      ...BROWSER_FLAGS,
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-audio-capture=${wav}%noloop`,
    ],
  });
  const page = await slow.newPage();
  // esbuild names functions through a helper that a page does not have.
  await page.addInitScript('globalThis.__name ??= (value) => value');
  await page.goto(served.url);
  await page.waitForFunction(() => 'openSound' in window, null, WAIT);
  const measured = await page.evaluate(async (sec) => {
    const sound = await window.openSound();
    await sound.resume();
    await sound.openMicrophone({ instrument: 'guitar' });
    await new Promise((done) => setTimeout(done, 1000));
    sound.startRecording();
    await new Promise((done) => setTimeout(done, 1000 * sec));
    const from = performance.now();
    const recording = await sound.stopRecording();
    const heard = await sound.listen({
      ...{ recording, instrument: 'guitar', tuning: [40, 45, 50, 55, 59, 64] },
      ...{ zeroFrame: recording.startFrame, reference: null, onProgress: () => undefined },
    });
    return {
      ms: performance.now() - from,
      lost: recording.gaps.reduce((sum, [, length]) => sum + length, 0) / 128,
      blocks: recording.samples.length / 128,
      notes: heard.notes.length,
    };
  }, TAKE_SEC);
  await slow.close();
  await served.close();
  weak.remove();
  rmSync(folder, { recursive: true, force: true });
  return measured;
}

/** Scores of Lighthouse's categories, 0 to 100; this process serves what it looks at meanwhile. */
async function lighthouse({ url }: Host): Promise<Record<string, number>> {
  const report = join(mkdtempSync(join(tmpdir(), 'twobar-lighthouse-')), 'report.json');
  const flags = ['--headless=new', ...BROWSER_FLAGS].join(' ');
  await promisify(execFile)(
    'npx',
    [
      ...['--yes', LIGHTHOUSE, url, '--quiet', '--no-enable-error-reporting'],
      ...['--output=json', `--output-path=${report}`, `--chrome-flags=${flags}`],
    ],
    { env: { ...process.env, CHROME_PATH: wholeBrowserPath() } },
  );
  const { categories } = JSON.parse(readFileSync(report, 'utf8')) as {
    categories: Record<string, { title: string; score: number | null }>;
  };
  return Object.fromEntries(
    Object.values(categories).map(({ title, score }) => [title, Math.round(100 * (score ?? NaN))]),
  );
}

console.log(
  `Load of the machine before it began ${loadavg()[0]!.toFixed(1)}, of ${cpus().length} cores; 2048-point FFT ${fftMicroseconds().toFixed(0)} µs\n`,
);
const [first, idle, whole] = await bytes();
console.log(
  `First visit, compressed: ${kB(first)} until the first page can be used (goal 150), ${kB(idle)} with what a test begins with, ${kB(whole)} with all that is kept for use offline\n`,
);
console.log(
  '| the page’s own thread (DevTools) | FFT here | first page usable | test begins to sound | slowest press |',
);
console.log('|---|---|---|---|---|');
for (const factor of [1, 4, 6]) {
  const core = throttled(factor);
  const [page, test, press] = [
    await repeated(firstPage, core.by),
    await repeated(testReady, core.by),
    await repeated(interaction, core.by),
  ];
  console.log(
    `| ${told(core)} | ${page.toFixed(0)} ms | ${test.toFixed(0)} ms | ${press.toFixed(0)} ms (goal 100) |`,
  );
}
console.log(
  `\n| the whole browser (control group) | FFT here | ${TAKE_SEC} s of single notes heard after the take | blocks lost |`,
);
console.log('|---|---|---|---|');
for (const factor of [1, 4, 6]) {
  const core = throttled(factor);
  const done = await take(core.by);
  console.log(
    done
      ? `| ${told(core)} | ${done.ms.toFixed(0)} ms, ${done.notes} notes${factor === 4 ? ' (goal 2000)' : ''} | ${done.lost} of ${done.blocks.toFixed(0)}${factor === 6 ? ' (goal 0)' : ''} |`
      : `| ${told(core)} | no control group may be made here | |`,
  );
}
if (!process.argv.includes('--no-lighthouse')) {
  console.log('\n| Lighthouse | score (goal 95) |\n|---|---|');
  for (const [title, score] of Object.entries(await lighthouse(host))) console.log(`| ${title} | ${score} |`);
}
await browser.close();
await host.close();
