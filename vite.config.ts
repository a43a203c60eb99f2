import { svelte } from '@sveltejs/vite-plugin-svelte';
import { playwright } from '@vitest/browser-playwright';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { BROWSER_FLAGS, browserPath } from './tests/support/browser.ts';

/** The development server injects styles into the page; the built app keeps the strict policy of index.html. */
const looserPolicyInDevelopment: Plugin = {
  name: 'looser-policy-in-development',
  apply: 'serve',
  transformIndexHtml: (html) => html.replace("style-src 'self'", "style-src 'self' 'unsafe-inline'"),
};

const testing = Boolean(process.env['VITEST']);
const root = import.meta.dirname;

export default defineConfig({
  root: testing ? root : `${root}/src/ui`,
  base: './',
  plugins: [svelte(), looserPolicyInDevelopment],
  worker: { format: 'es' },
  build: { outDir: `${root}/dist`, emptyOutDir: true, target: 'es2022' },
  optimizeDeps: { include: ['pitchy', 'tone', 'tonal'] },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.browser.test.ts', 'tests/**/*.e2e.test.ts'],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/**/*.browser.test.ts'],
          testTimeout: 60_000,
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
          include: ['tests/**/*.e2e.test.ts'],
          fileParallelism: false,
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
