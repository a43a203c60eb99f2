import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const CSS = readFileSync(resolve(import.meta.dirname, '../../src/ui/styles/tokens.css'), 'utf8');

/** The colours that a selector sets, by name. */
function coloursOf(selector: string): Record<string, string> {
  const start = CSS.indexOf(selector);
  if (start < 0) throw new RangeError(`tokens.css has no ${selector}`);
  const block = CSS.slice(CSS.indexOf('{', start), CSS.indexOf('}', start));
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1]!, m[2]!]));
}

/** Relative luminance and contrast, WCAG 2.2 (definitions of "relative luminance" and "contrast ratio"). */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const share = parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}
function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light! + 0.05) / (dark! + 0.05);
}

const THEMES = {
  light: coloursOf(":root[data-theme='light'] {"),
  dark: coloursOf(":root[data-theme='dark'] {"),
  'dark by the device': coloursOf(":root:not([data-theme='light']) {"),
};

describe('the colours', () => {
  for (const [theme, colours] of Object.entries(THEMES)) {
    it(`keep every text at 4.5:1 or more on its ground: ${theme}`, () => {
      const pairs = [
        ...['ink', 'ink-soft', 'accent', 'attention'].flatMap((text) => [
          [text, 'paper'],
          [text, 'paper-raised'],
        ]),
        ['on-accent', 'accent'],
      ];
      for (const [text, ground] of pairs)
        expect(contrast(colours[text!]!, colours[ground!]!), `${text} on ${ground}`).toBeGreaterThanOrEqual(
          4.5,
        );
    });
    // WCAG 2.2, 1.4.11: what one must see to understand the picture has 3:1 against what lies beside it.
    it(`let the good zone of the level line be seen at 3:1, by its area and by its outline: ${theme}`, () => {
      for (const one of ['zone', 'ink'])
        expect(contrast(colours[one]!, colours['paper']!), one).toBeGreaterThanOrEqual(3);
    });
  }
  it('are the same dark whether the device or the setting asks for it', () => {
    expect(THEMES['dark by the device']).toEqual(THEMES.dark);
  });
  it('are measured rightly: black on white is 21:1, #777 on white 4.48:1 (WCAG’s own examples)', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });
});
