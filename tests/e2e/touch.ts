import type { Page } from 'playwright-core';

/** Side of what a finger hits for certain, CSS px (WCAG 2.2, 2.5.5). */
const LEAST = 44;

/**
 * What can be pressed on this page and is smaller than a finger, with its size. A box to tick counts with its label; a link within
 * a sentence is as high as its line (2.5.5, inline).
 */
export const smallTargets = (page: Page): Promise<string[]> =>
  page.evaluate((least) => {
    const pressed = 'button, a[href], input, select, textarea, summary, [role="button"], [role="slider"]';
    const found: string[] = [];
    for (const at of document.querySelectorAll<HTMLElement>(`main :is(${pressed}), header :is(${pressed})`)) {
      if (!at.checkVisibility({ visibilityProperty: true })) continue;
      const own = at.getBoundingClientRect();
      const label = at instanceof HTMLInputElement ? at.closest('label')?.getBoundingClientRect() : undefined;
      const width = Math.max(own.width, label?.width ?? 0);
      const height = Math.max(own.height, label?.height ?? 0);
      // Only for a screen reader, or not drawn.
      if (width <= 1 || height <= 1) continue;
      const words = (one: Element | null): string => (one?.textContent ?? '').trim();
      const inSentence =
        getComputedStyle(at).display === 'inline' && words(at.parentElement).length > words(at).length + 3;
      if (inSentence || (width > least - 0.5 && height > least - 0.5)) continue;
      found.push(
        `${at.tagName.toLowerCase()} “${(words(at) || (at.getAttribute('aria-label') ?? '')).slice(0, 30)}”: ${Math.round(width)} × ${Math.round(height)} px`,
      );
    }
    return found;
  }, LEAST);
