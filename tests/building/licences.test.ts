import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { describePackage, folderOf, packageOf } from '../../src/building/bundledPackages.ts';
import type { BundledPackage } from '../../src/building/bundledPackages.ts';
import { TYPEFACES } from '../../src/ui/licences.ts';

const ROOT = resolve(import.meta.dirname, '../..');
let out = '';
let files: string[] = [];
let list: BundledPackage[] = [];

/** The app, built as `npm run build` does, with source maps: they tell by another way than the list what was joined. */
beforeAll(() => {
  out = mkdtempSync(join(tmpdir(), 'twobar-licences-'));
  const env: NodeJS.ProcessEnv = { ...process.env, NODE_ENV: 'production' };
  delete env['VITEST'];
  const words = ['build', '--outDir', out, '--sourcemap', '--logLevel', 'error'];
  execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', ...words], { cwd: ROOT, env });
  files = readdirSync(out, { recursive: true, encoding: 'utf8' });
  list = JSON.parse(readFileSync(join(out, 'licences.json'), 'utf8')) as BundledPackage[];
}, 240_000);
afterAll(() => rmSync(out, { recursive: true, force: true }));

/** What published files hold of other packages: read by hand in the files themselves, 2026-11-28. */
const JOINED_BEFORE: Readonly<Record<string, readonly string[]>> = {
  svguitar: ['@svgdotjs/svg.js', 'roughjs'],
  dexie: ['safari-14-idb-fix', 'tslib'],
};
/** The one part of the offline worker's makers that the page itself holds. */
const IN_PAGE = 'workbox-window';

const names = (): string[] => list.map(({ name }) => name);

describe('the list of licences', () => {
  it('names every package whose code is served, in the page, its workers and the worklet, and no other', () => {
    const served = new Set<string>();
    for (const file of files.filter((name) => name.endsWith('.js.map') && !/^(sw|workbox-)/.test(name))) {
      const { sources } = JSON.parse(readFileSync(join(out, file), 'utf8')) as { sources: string[] };
      for (const source of sources) {
        const name = packageOf(source);
        if (name !== null) served.add(name);
      }
    }
    expect(served.size).toBeGreaterThan(20);
    for (const [outer, inner] of Object.entries(JOINED_BEFORE))
      if (served.has(outer)) for (const name of inner) served.add(name);
    const code = names().filter(
      (name) => !(name.startsWith('workbox-') && name !== IN_PAGE) && !(name in TYPEFACES),
    );
    expect(code).toEqual([...served].filter((name) => !(name in TYPEFACES)).sort());
  });

  it('names what the offline worker is made of, as the worker itself says', () => {
    const worker = files.filter((name) => /^(sw|workbox-).*\.js$/.test(name));
    const said = worker.flatMap((name) =>
      [...readFileSync(join(out, name), 'utf8').matchAll(/workbox:([a-z-]+):/g)].map(
        ([, part]) => `workbox-${part}`,
      ),
    );
    expect(names().filter((name) => name.startsWith('workbox-'))).toEqual(
      [...new Set([...said, IN_PAGE])].sort(),
    );
  });

  it('names every typeface that is served, and no other', () => {
    const fonts = files.filter((name) => name.endsWith('.woff2'));
    const of = Object.keys(TYPEFACES).filter((pack) =>
      fonts.some((name) => name.includes(pack.split('/')[1]!)),
    );
    expect(of).toHaveLength(Object.keys(TYPEFACES).length);
    expect(names().filter((name) => name in TYPEFACES)).toEqual(of.sort());
    for (const font of fonts)
      expect(
        of.some((pack) => font.includes(pack.split('/')[1]!)),
        font,
      ).toBe(true);
  });

  it('says of each who made it, under which licence, and where it comes from', () => {
    for (const { name, author, licence, url, version } of list) {
      expect(author, name).toMatch(/^\p{L}[^@<[\]]+$/u);
      expect(licence, name).toMatch(/^(MIT|ISC|0BSD|Apache-2\.0|OFL-1\.1|BSD-[23]-Clause)$/);
      expect(url, name).toMatch(/^https:\/\/[\w.-]+\/\S+$/);
      expect(version, name).not.toBe('');
    }
  });

  it('cannot be made with a package that names no licence, or is not there', () => {
    expect(() => folderOf('no-such-package', ROOT)).toThrow(/no-such-package is not installed/);
    expect(() => describePackage(join(ROOT, 'tests/building/unlicensed'))).toThrow(/names no licence/);
  });
});
