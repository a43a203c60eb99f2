import type { Page } from 'playwright-core';

/** What has the focus: its words, and whether one can see that it has it. */
const focused = (page: Page): Promise<{ words: string; seen: boolean }> =>
  page.evaluate(() => {
    const at = document.activeElement as HTMLElement;
    if (at === document.body) return { words: '', seen: false };
    const labels = (at as HTMLInputElement).labels;
    const words = [at.ariaLabel, ...[...(labels ?? [])].map(({ innerText }) => innerText), at.innerText];
    const { outlineStyle, outlineWidth } = getComputedStyle(at);
    // What is pressed may be drawn by a label around an input that is not shown.
    const box = (labels?.[0] ?? at).getBoundingClientRect();
    const ring = [at, ...(labels ?? [])].some((one) => getComputedStyle(one).outlineStyle !== 'none');
    return {
      words: words.filter(Boolean).join(' ').replace(/\s+/g, ' ').replaceAll(' :', ':').trim(),
      seen:
        (ring || (outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2)) &&
        box.bottom > 0 &&
        box.top < innerHeight,
    };
  });

/**
 * Presses Tab until what has the focus begins with these words, or fits them.
 * @throws Error when it is not within 150 presses, or when anything on the way to it had the focus unseen
 */
export async function tabTo(page: Page, words: string | RegExp): Promise<void> {
  const passed: string[] = [];
  for (let presses = 0; presses < 150; presses++) {
    await page.keyboard.press('Tab');
    const now = await focused(page);
    // The browser's own bar, past the end of the page.
    if (now.words === '') continue;
    if (!now.seen) throw new Error(`one cannot see that “${now.words}” has the focus`);
    if (typeof words === 'string' ? now.words.startsWith(words) : words.test(now.words)) return;
    passed.push(now.words.slice(0, 30));
  }
  throw new Error(`Tab does not reach “${String(words)}”: ${passed.slice(-40).join(' | ')}`);
}

/** To it by Tab, then Enter. */
export async function press(page: Page, words: string | RegExp): Promise<void> {
  await tabTo(page, words);
  await page.keyboard.press('Enter');
}

/** To a field by Tab, then its text in place of what stands there. */
export async function type(page: Page, label: string, text: string): Promise<void> {
  await tabTo(page, label);
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
}
