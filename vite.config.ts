import { svelte } from '@sveltejs/vite-plugin-svelte';
import type { Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { licences } from './src/building/licences.ts';
import { HEADERS } from './src/ui/hosting.ts';
import { projects } from './tests/projects.ts';

/** The development server injects styles into the page; the built app keeps the strict policy of index.html. */
const looserPolicyInDevelopment: Plugin = {
  name: 'looser-policy-in-development',
  apply: 'serve',
  transformIndexHtml: (html) => html.replace("style-src 'self'", "style-src 'self' 'unsafe-inline'"),
};

/**
 * Files that the installed app opens, by the types of RFC 6838's registry (IANA) where there is one; Twobar's own has none.
 * `ui/given/kind.ts` looks into the file itself.
 */
const GIVEN = {
  'application/x-twobar': ['.twobar'],
  'application/vnd.recordare.musicxml+xml': ['.musicxml'],
  'application/vnd.recordare.musicxml': ['.mxl'],
  'audio/midi': ['.mid', '.midi'],
  'audio/wav': ['.wav'],
  'audio/flac': ['.flac'],
  'audio/mpeg': ['.mp3'],
  'audio/mp4': ['.m4a'],
  'audio/ogg': ['.ogg', '.oga', '.opus'],
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
    file_handlers: [{ action: './', accept: GIVEN }],
    share_target: {
      action: './share',
      method: 'POST',
      enctype: 'multipart/form-data',
      params: {
        ...{ title: 'title', text: 'text', url: 'url' },
        files: [{ name: 'file', accept: Object.entries(GIVEN).flat(2) }],
      },
    },
  },
  workbox: {
    importScripts: ['./receive.js'],
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
    projects: projects(testing),
  },
});
