import { resolve } from 'node:path';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** `npm run test:long`: what takes minutes. Apart from `npm test`, so that this stays quick. */
export default defineConfig({
  root: resolve(import.meta.dirname, '../..'),
  // The words of a page ask its settings, which are runes.
  plugins: [svelte()],
  test: {
    name: 'long',
    include: ['tests/long/**/*.long.test.ts'],
    globalSetup: 'tests/support/postgres-of-the-run.ts',
    testTimeout: 600_000,
    hookTimeout: 600_000,
    // The one computes, the other mostly waits for pages.
    maxWorkers: 2,
  },
});
