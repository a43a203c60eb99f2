import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** What axe finds on the page as it stands, in each colour scheme: "result, dark: color-contrast: …". */
export async function violationsIn(
  page: Page,
  screen: string,
  schemes: readonly ('light' | 'dark')[] = ['light', 'dark'],
): Promise<string[]> {
  const found: string[] = [];
  await page.evaluate(axe.source);
  for (const scheme of schemes) {
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    const violations = await page.evaluate(async () => {
      const results = await (window as unknown as { axe: typeof axe }).axe.run();
      return results.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
    });
    found.push(...violations.map((violation) => `${screen}, ${scheme}: ${violation}`));
  }
  await page.emulateMedia({ colorScheme: null, reducedMotion: null });
  return found;
}
