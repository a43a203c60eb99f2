import { svelte } from '@sveltejs/vite-plugin-svelte';
import { playwright } from '@vitest/browser-playwright';
import type { Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { licences } from './src/building/licences.ts';
import { HEADERS } from './src/ui/hosting.ts';
import { BROWSER_FLAGS, browserPath } from './tests/support/browser.ts';

/** The development server injects styles into the page; the built app keeps the strict policy of index.html. */
const looserPolicyInDevelopment: Plugin = {
  name: 'looser-policy-in-development',
  apply: 'serve',
  transformIndexHtml: (html) => html.replace("style-src 'self'", "style-src 'self' 'unsafe-inline'"),
};

/** Offline after the first load; a new version waits until `ui/pwa.ts` finds the app idle. */
const offline = VitePWA({
  registerType: 'prompt',
  injectRegister: null,
  manifest: {
    name: 'Twobar',
    short_name: 'Twobar',
    description: 'Ear tests for guitar and bass',
    start_url: './',
    scope: './',
    display: 'standalone',
    background_color: '#fbf8f1',
    theme_color: '#fbf8f1',
    icons: [
      { src: './icon.svg', sizes: 'any', type: 'image/svg+xml' },
      { src: './icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: './icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any maskable' },
    ],
  },
  workbox: {
    globPatterns: ['**/*.{js,css,html,svg,png,woff2,mp3,json}'],
    // What the examiner says is fetched sentence by sentence, in one language, by whoever sits a sitting.
    globIgnores: ['**/examiner-*.mp3'],
    runtimeCaching: [
      {
        urlPattern: /\/examiner-[^/]*\.mp3$/,
        handler: 'CacheFirst',
        options: { cacheName: 'examiner', rangeRequests: true },
      },
    ],
    // The sounds are the largest files; all of them must be there for a test without a network.
    maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
    navigateFallback: 'index.html',
    cleanupOutdatedCaches: true,
  },
});

const testing = Boolean(process.env['VITEST']);
const root = import.meta.dirname;
const listed = licences(root);
const SIDE_BY_SIDE = [
  'advice',
  'advice-again',
  'chords',
  'first-visit',
  'homework',
  'improvising',
  'languages',
  'lesson',
  'look-lying',
  'look-phone',
  'look-wide',
  'main-job',
  'marked-page',
  'own-phrases',
  'phrases',
  'pieces',
  'practice',
  'print',
  'question',
  'reading',
  'scales',
  'screens',
  'sitting',
  'sound-check',
  'studio',
  'survive',
  'trouble',
  'week',
  'written-homework',
].map((name) => `tests/e2e/${name}.e2e.test.ts`);

export default defineConfig({
  root: testing ? root : `${root}/src/ui`,
  base: './',
  plugins: [svelte(), looserPolicyInDevelopment, ...(testing ? [] : [listed.page, offline])],
  worker: { format: 'es', plugins: () => [listed.worker()] },
  preview: { headers: HEADERS },
  // The page in which Vitest runs its tests is framed.
  server: testing ? {} : { headers: HEADERS },
  build: { outDir: `${root}/dist`, emptyOutDir: true, target: 'es2022' },
  // What is found only while a page runs makes Vite reload it, in the middle of a test.
  optimizeDeps: {
    include: [
      'pitchy',
      'tonal',
      'fft.js',
      'signalsmith-stretch',
      // Tone module by module: src/audio/render/tone.ts says why.
      'tone/build/esm/core/context/GlobalContext.js',
      'tone/build/esm/core/context/Gain.js',
      'tone/build/esm/core/context/OfflineContext.js',
      'tone/build/esm/source/buffer/ToneBufferSource.js',
    ],
  },
  test: {
    reporters: ['default', './tests/support/by-engine.ts'],
    // One project after the other (groupOrder), the sounding ones one file at a time: a browser that must share its core
    // with number-crunching drops blocks of real-time audio, and a test fails in which nothing is wrong. For the same
    // reason these are tried twice: what is broken fails each time.
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          sequence: { groupOrder: 0 },
          include: ['tests/**/*.test.ts'],
          exclude: [
            ...['tests/long/**', 'tests/studio/**'],
            ...['tests/**/*.browser.test.ts', 'tests/**/*.e2e.test.ts'],
          ],
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        // Beside the former; apart, because a PostgreSQL server is started for it.
        extends: true,
        test: {
          name: 'studio',
          sequence: { groupOrder: 0 },
          include: ['tests/studio/**/*.test.ts'],
          globalSetup: 'tests/support/postgres-of-the-run.ts',
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          sequence: { groupOrder: 1 },
          include: ['tests/**/*.browser.test.ts'],
          fileParallelism: false,
          retry: 1,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({
              launchOptions: testing ? { executablePath: browserPath(), args: BROWSER_FLAGS } : {},
            }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
      {
        // The built app in a real browser, driven from outside; one at a time: they share the machine's ears.
        extends: true,
        test: {
          name: 'e2e',
          sequence: { groupOrder: 2 },
          include: ['tests/**/*.e2e.test.ts'],
          exclude: [...SIDE_BY_SIDE, 'tests/engines/**'],
          globalSetup: 'tests/e2e/build.ts',
          fileParallelism: false,
          retry: 1,
          testTimeout: 600_000,
          hookTimeout: 300_000,
        },
      },
      {
        // Of these two at a time: they mostly wait, for music and for pages, and measure no time themselves.
        extends: true,
        test: {
          name: 'e2e pages',
          sequence: { groupOrder: 3 },
          include: SIDE_BY_SIDE,
          globalSetup: ['tests/e2e/build.ts', 'tests/support/postgres-of-the-run.ts'],
          maxWorkers: 2,
          retry: 1,
          testTimeout: 600_000,
          hookTimeout: 300_000,
        },
      },
      // The other engines, one after the other and one file at a time: they sound through a sound server, in true time.
      ...['firefox', 'webkit'].map((engine, i) => ({
        extends: true as const,
        test: {
          name: `e2e ${engine}`,
          sequence: { groupOrder: 4 + i },
          include: [`tests/engines/${engine}/*.e2e.test.ts`],
          globalSetup: 'tests/e2e/build.ts',
          fileParallelism: false,
          retry: 1,
          testTimeout: 600_000,
          hookTimeout: 300_000,
        },
      })),
    ],
  },
});
