import { describe, expect, it } from 'vitest';
import { rest } from '../../src/ui/state/rest.ts';

/** Milliseconds until `rest` resolves. */
async function untilRest(): Promise<number> {
  const from = performance.now();
  await rest();
  return performance.now() - from;
}

describe('the rest in which pages are fetched ahead', () => {
  it('comes once the page has nothing to do and nobody has pressed anything for a moment', async () => {
    await untilRest();
    for (const event of [new KeyboardEvent('keydown', { key: 'Tab' }), new PointerEvent('pointerdown')]) {
      dispatchEvent(event);
      const wait = untilRest();
      // Pressed again before the first press is forgotten: it counts from the last.
      await new Promise((done) => setTimeout(done, 900));
      dispatchEvent(new KeyboardEvent('keydown', { key: 'Tab' }));
      expect(await wait).toBeGreaterThan(900 + 2000);
    }
  });
});
