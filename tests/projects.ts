import { availableParallelism } from 'node:os';
import { playwright } from '@vitest/browser-playwright';
import type { TestProjectConfiguration } from 'vitest/config';
import { BROWSER_FLAGS, browserPath } from './support/browser.ts';

const e2e = (names: readonly string[]): string[] => names.map((name) => `tests/e2e/${name}.e2e.test.ts`);

/** Of the built app: one job each, from the first press to what is kept. */
const PAGES = e2e([
  ...[
    'advice',
    'advice-again',
    'chords',
    'first-visit',
    'given',
    'homework',
    'languages',
    'lesson',
    'main-job',
  ],
  ...[
    'marked-page',
    'own-phrases',
    'phrases',
    'pieces',
    'practice',
    'print',
    'question',
    'reading',
    'scales',
  ],
  ...['screens', 'sitting', 'sound-check', 'week', 'written-homework'],
]);
/** Every screen at every size, accidents, and several machines: minutes each. */
const LONG_PAGES = e2e([
  ...['improvising', 'look-lying', 'look-phone', 'look-wide', 'studio', 'survive', 'trouble'],
]);
/** A whole sitting; as long as it is. */
const LONG_SOUND = e2e(['whole-sitting']);

/** Of the pure parts, which hold no state. */
const CORES = ['audio-fixtures', 'dsp', 'exchange', 'music', 'notation', 'tests-engine'].map(
  (part) => `tests/${part}/**/*.test.ts`,
);

const PATIENT = { testTimeout: 600_000, hookTimeout: 300_000 };

/**
 * One project after the other (groupOrder), the sounding ones one file at a time: a browser that must share its core
 * with number-crunching drops blocks of real-time audio, and a test fails in which nothing is wrong. For the same
 * reason these are tried twice: what is broken fails each time. Those named `long …` are left out by `npm test` and run by
 * `npm run test:long`.
 * @param running whether tests run: only then a browser is looked for
 */
export function projects(running: boolean): TestProjectConfiguration[] {
  /** On all cores: Vitest leaves one idle, which is half of two. Both projects must say the same. */
  const node = {
    sequence: { groupOrder: 0 },
    maxWorkers: availableParallelism(),
    testTimeout: 120_000,
    hookTimeout: 120_000,
  };
  const builtApp = {
    globalSetup: ['tests/e2e/build.ts'],
    retry: 1,
    ...PATIENT,
  };
  /** Two at a time: they mostly wait, for music and for pages, and measure no time themselves. */
  const sideBySide = {
    ...builtApp,
    globalSetup: ['tests/e2e/build.ts', 'tests/support/postgres-of-the-run.ts'],
    maxWorkers: 2,
  };
  return [
    {
      extends: true,
      test: {
        ...node,
        name: 'node',
        include: ['tests/**/*.test.ts'],
        exclude: [
          ...['tests/long/**', 'tests/studio/**', ...CORES],
          ...['tests/**/*.browser.test.ts', 'tests/**/*.e2e.test.ts'],
        ],
      },
    },
    {
      // Beside the former: these keep nothing between calls, so a worker loads the modules once for all of its files.
      extends: true,
      test: {
        ...node,
        name: 'node cores',
        isolate: false,
        include: CORES,
        exclude: ['tests/**/*.browser.test.ts', 'tests/**/*.e2e.test.ts'],
      },
    },
    {
      // Beside the former; apart, because a PostgreSQL server is started for it.
      extends: true,
      test: {
        ...node,
        name: 'studio',
        include: ['tests/studio/**/*.test.ts'],
        globalSetup: 'tests/support/postgres-of-the-run.ts',
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
            launchOptions: running ? { executablePath: browserPath(), args: BROWSER_FLAGS } : {},
          }),
          instances: [{ browser: 'chromium' }],
        },
      },
    },
    {
      // The built app in a real browser, driven from outside; one at a time: they share the machine's ears.
      extends: true,
      test: {
        ...builtApp,
        name: 'e2e',
        sequence: { groupOrder: 2 },
        include: ['tests/**/*.e2e.test.ts'],
        exclude: [...PAGES, ...LONG_PAGES, ...LONG_SOUND, 'tests/engines/**'],
        fileParallelism: false,
      },
    },
    {
      extends: true,
      test: { ...sideBySide, name: 'e2e pages', sequence: { groupOrder: 3 }, include: PAGES },
    },
    {
      // More than twenty thousand strangers at the doors: the one computes, the other mostly waits for pages.
      extends: true,
      test: {
        name: 'long doors',
        sequence: { groupOrder: 4 },
        include: ['tests/long/**/*.long.test.ts'],
        globalSetup: 'tests/support/postgres-of-the-run.ts',
        testTimeout: 600_000,
        hookTimeout: 600_000,
        maxWorkers: 2,
      },
    },
    {
      extends: true,
      test: { ...sideBySide, name: 'long pages', sequence: { groupOrder: 5 }, include: LONG_PAGES },
    },
    {
      extends: true,
      test: {
        ...builtApp,
        name: 'long sound',
        sequence: { groupOrder: 6 },
        include: LONG_SOUND,
        fileParallelism: false,
      },
    },
    // The other engines, one after the other and one file at a time: they sound through a sound server, in true time.
    ...['firefox', 'webkit'].map((engine, i): TestProjectConfiguration => ({
      extends: true,
      test: {
        ...builtApp,
        name: `long ${engine}`,
        sequence: { groupOrder: 7 + i },
        include: [`tests/engines/${engine}/*.e2e.test.ts`],
        fileParallelism: false,
      },
    })),
  ];
}
