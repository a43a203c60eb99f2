import axe from 'axe-core';
import type { Page } from 'playwright-core';

/**
 * What axe finds on the page as it stands, in each colour scheme: "result, dark: color-contrast: …". Schemes differ in colours
 * alone, so in the second one nothing else is asked.
 */
export async function violationsIn(
  page: Page,
  screen: string,
  schemes: readonly ('light' | 'dark')[] = ['light', 'dark'],
): Promise<string[]> {
  const found: string[] = [];
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  for (const [i, scheme] of schemes.entries()) {
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    const violations = await page.evaluate(
      async (only) => {
        const results = await (window as unknown as { axe: typeof axe }).axe.run(only);
        return results.violations.map(
          ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`,
        );
      },
      i === 0 ? {} : { runOnly: ['color-contrast'] },
    );
    found.push(...violations.map((violation) => `${screen}, ${scheme}: ${violation}`));
  }
  await page.emulateMedia({ colorScheme: null, reducedMotion: null });
  return found;
}
