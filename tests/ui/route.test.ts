import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { pageAsked } from '../../src/ui/state/route.svelte.ts';

beforeEach(() => vi.stubGlobal('location', { hash: '#/phrases/k3' }));
afterEach(() => vi.unstubAllGlobals());

it('keeps work that ends late from taking anybody off the page they went to meanwhile', () => {
  const stillHere = pageAsked();
  expect(stillHere()).toBe(true);
  location.hash = '#/phrases/new';
  expect(stillHere()).toBe(false);
});
