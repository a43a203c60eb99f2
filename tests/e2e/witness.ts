import type { Page } from 'playwright-core';

/** What a page was touched by, and what it told of results, since it was opened; also in what it loads later. */
export interface Witnessed {
  /** Everything of a mouse, a pen or a finger. A key that presses a button is none. */
  readonly pointers: string[];
  /** Marks, outcomes and marked notes, with the address at which they were shown, however short. */
  readonly results: { readonly at: string; readonly words: string }[];
}

/** Looks on from inside. Before the page is opened. */
export async function witness(page: Page): Promise<Witnessed> {
  const seen: Witnessed = { pointers: [], results: [] };
  await page.exposeFunction('__twobarPointed', (what: string) => void seen.pointers.push(what));
  await page.exposeFunction(
    '__twobarTold',
    (at: string, words: string) => void seen.results.push({ at, words }),
  );
  await page.addInitScript(() => {
    const outside = window as unknown as {
      __twobarPointed(what: string): void;
      __twobarTold(at: string, words: string): void;
    };
    for (const type of [
      ...['pointerdown', 'pointermove', 'pointerup', 'mousedown', 'mousemove', 'mouseup'],
      ...['touchstart', 'touchend', 'wheel', 'click', 'auxclick', 'contextmenu', 'dragstart'],
    ])
      window.addEventListener(
        type,
        (event) => {
          // A button that Enter or Space presses is clicked by no pointer.
          if (event instanceof PointerEvent && event.type === 'click' && event.pointerType === '') return;
          outside.__twobarPointed(type);
        },
        { capture: true, passive: true },
      );
    const RESULTS = '.result, p.number, .verdicts, .advice';
    const WORDS = /Got it|Not yet|\d of 100/;
    const look = (node: Node): void => {
      const words = node.textContent ?? '';
      const element = node instanceof Element ? node : node.parentElement;
      if (element?.closest(RESULTS) || element?.querySelector(RESULTS) || WORDS.test(words))
        outside.__twobarTold(location.hash, words.slice(0, 80));
    };
    new MutationObserver((changes) => {
      for (const { type, addedNodes, target } of changes)
        if (type === 'characterData') look(target);
        else addedNodes.forEach(look);
    }).observe(document, { childList: true, characterData: true, subtree: true });
  });
  return seen;
}
