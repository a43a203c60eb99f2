import { readFileSync } from 'node:fs';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';

/**
 * What the app uses that not every browser in use has, as MDN's browser-compat-data (CC0, npm) names it. The oldest
 * version that has all of it is the oldest that the page and the README promise.
 */
const USED = [
  'api.CompressionStream',
  'api.DecompressionStream',
  'api.AudioWorklet',
  'api.Worker.Worker.ecmascript_modules',
  'api.Crypto.randomUUID',
  'api.SubtleCrypto.digest',
  'css.types.length.viewport_percentage_units_dynamic',
  'javascript.builtins.Array.at',
  'javascript.builtins.Array.findLast',
  'javascript.builtins.Array.toReversed',
  'javascript.builtins.Array.toSorted',
  'javascript.builtins.Object.hasOwn',
  'javascript.classes.private_class_methods',
  'javascript.regular_expressions.lookbehind_assertion',
] as const;
const PROMISED = { chrome: '110', firefox: '115', safari: '16.4', safari_ios: '16.4' } as const;

/** Read as it is: it is too large to go through the bundler. */
const bcd = JSON.parse(readFileSync('node_modules/@mdn/browser-compat-data/data.json', 'utf8')) as unknown;

interface Node {
  readonly __compat?: {
    readonly support: Readonly<Record<string, { version_added: string } | { version_added: string }[]>>;
  };
}
function addedIn(feature: string, browser: string): number {
  const found = feature
    .split('.')
    .reduce<unknown>((at, part) => (at as Record<string, unknown>)[part], bcd) as Node;
  const support = found.__compat!.support[browser]!;
  return Number((Array.isArray(support) ? support[0]! : support).version_added);
}

describe('the oldest browsers', () => {
  it.each(Object.entries(PROMISED))('have all that is used: %s from %s on', (browser, version) => {
    const needed = USED.map((feature) => addedIn(feature, browser));
    expect(needed.every(Number.isFinite)).toBe(true);
    expect(Math.max(...needed)).toBe(Number(version));
  });
  it('are named as the README and the page name them', () => {
    const [readme, page] = ['README.md', 'src/ui/index.html'].map((file) => readFileSync(file, 'utf8'));
    expect(page!.match(/110/g)).toHaveLength(3);
    // The table's first two columns: who, and from which version on.
    const rows = [...readme!.matchAll(/^\| (Chrome, Edge|Firefox|Safari) \| ([\d.]+) \|/gm)];
    expect(rows.map(([, who, from]) => [who, from])).toEqual([
      ['Chrome, Edge', PROMISED.chrome],
      ['Firefox', PROMISED.firefox],
      ['Safari', PROMISED.safari],
    ]);
  });
  it('that lack any of it are told by a script that they can read', () => {
    const source = readFileSync('src/ui/public/needs.js', 'utf8');
    const told = (without: string): string | undefined => {
      const page = { missing: undefined as string | undefined, hidden: true };
      class Stream {}
      const arrays = without === 'toReversed' ? [] : ['toReversed', 'findLast'];
      const context = {
        ...(without === 'CompressionStream' ? {} : { CompressionStream: Stream }),
        DecompressionStream: Stream,
        Array: { prototype: Object.fromEntries(arrays.map((name) => [name, () => undefined])) },
        RegExp: without === 'lookbehind' ? () => new RegExp('(?<') : RegExp,
        window: without === 'indexedDB' ? {} : { indexedDB: {} },
        document: {
          documentElement: { setAttribute: (_: string, names: string) => (page.missing = names) },
          getElementById: () => page,
        },
      };
      runInNewContext(source, context);
      expect(page.hidden).toBe(page.missing === undefined);
      return page.missing;
    };
    expect(told('nothing')).toBeUndefined();
    expect(told('CompressionStream')).toBe('CompressionStream');
    expect(told('toReversed')).toBe('Array.prototype.toReversed');
    expect(told('lookbehind')).toBe('lookbehind in regular expressions');
    expect(told('indexedDB')).toBe('indexedDB');
    // ECMAScript 5 alone: nothing in it is younger than what it looks for.
    expect(source).not.toMatch(/\b(let|const)\b|=>|`|\?\./);
  });
});
