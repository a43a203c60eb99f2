import type { Page } from 'playwright-core';

/**
 * Texts of the page of which one stands over another, and texts that the window cuts off at the side, each in words;
 * measured on the boxes of what is read, a fifth of a line's height less above and below (the air of the face).
 * Signs of the engraving have no words and are left out, so is what only speech reads.
 */
export const badTexts = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    interface Box {
      readonly words: string;
      readonly of: Element;
      readonly left: number;
      readonly right: number;
      readonly top: number;
      readonly bottom: number;
    }
    /** Whether the style of the element, or of one that it stands in, is such. */
    const within = (of: Element, such: (style: CSSStyleDeclaration) => boolean): boolean => {
      for (let at: Element | null = of; at; at = at.parentElement)
        if (such(getComputedStyle(at))) return true;
      return false;
    };
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const boxes: Box[] = [];
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
      const of = node.parentElement!;
      const words = node.textContent!.trim();
      if (words === '' || /^[\uE000-\uF8FF]+$/.test(words)) continue;
      if (of.closest('option, .visually-hidden, .count, .skip, script, style')) continue;
      if (!of.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
      // Hidden from the eye alone, itself or with what it stands in.
      if (within(of, ({ clipPath }) => clipPath !== 'none')) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const { left, right, top, bottom } of range.getClientRects()) {
        const air = 0.2 * (bottom - top);
        if (right - left > 1 && bottom - top > 4)
          boxes.push({ words: words.slice(0, 40), of, left, right, top: top + air, bottom: bottom - air });
      }
    }
    const found = new Set<string>();
    /** What is folded out over the page, or stays in view while the rest scrolls under it, covers it. */
    const over = ({ of }: Box): boolean =>
      of.closest('nav.open') !== null ||
      within(of, ({ position }) => position === 'sticky' || position === 'fixed');
    boxes.forEach((one, i) => {
      if (
        one.right > innerWidth + 1 &&
        !one.of.closest('.scroll, [data-scroll]') &&
        one.of.closest('main, header')
      )
        found.add(`cut off: “${one.words}”`);
      for (const other of boxes.slice(i + 1)) {
        if (one.of === other.of && one.words === other.words) continue;
        const across = Math.min(one.right, other.right) - Math.max(one.left, other.left);
        const down = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
        if (across > 1.5 && down > 1.5 && over(one) === over(other))
          found.add(`“${one.words}” over “${other.words}”`);
      }
    });
    return [...found];
  });
