import { afterEach, expect, it, vi } from 'vitest';
import { askToKeep } from '../../src/store/persistence.ts';

afterEach(() => void vi.unstubAllGlobals());

/** A browser that prompts the user at each request, or decides alone, and what it was asked. */
function browser(remembers: boolean, prompts = true) {
  const asked = { times: 0, kept: false };
  const kept = new Map<string, string>();
  vi.stubGlobal('CSS', { supports: () => prompts });
  vi.stubGlobal('navigator', {
    storage: {
      persisted: () => Promise.resolve(asked.kept),
      persist: () => Promise.resolve(((asked.times += 1), asked.kept)),
      estimate: () => Promise.resolve({ usage: 1, quota: 2 }),
    },
  });
  const refuse = (): never => {
    throw new DOMException('no', 'SecurityError');
  };
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => (remembers ? (kept.get(key) ?? null) : refuse()),
    setItem: (key: string, value: string) => (remembers ? void kept.set(key, value) : refuse()),
  });
  return asked;
}

it('asks its user once by itself after many takes, and again only where the user asks', async () => {
  const asked = browser(true);
  for (let take = 0; take < 5; take++)
    expect(await askToKeep()).toEqual({ safety: 'may-go', usedBytes: 1, quotaBytes: 2 });
  expect(asked.times).toBe(1);
  await askToKeep(true);
  expect(asked.times).toBe(2);
  // What is promised is not asked for again.
  asked.kept = true;
  expect((await askToKeep(true)).safety).toBe('kept');
  expect(asked.times).toBe(2);
});

it('asks nothing by itself where it could not remember that it did', async () => {
  const asked = browser(false);
  for (let take = 0; take < 3; take++) await askToKeep();
  expect(asked.times).toBe(0);
  await askToKeep(true);
  expect(asked.times).toBe(1);
});

it('asks a browser that decides alone after each take, until it keeps the record', async () => {
  const asked = browser(true, false);
  for (let take = 0; take < 3; take++) await askToKeep();
  expect(asked.times).toBe(3);
  asked.kept = true;
  await askToKeep();
  expect(asked.times).toBe(3);
});
