import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import { describePackage, folderOf, packageOf, packagesInside } from './bundledPackages.ts';
import type { BundledPackage } from './bundledPackages.ts';

/** What the offline worker is made of: its maker joins these outside of the build. A test looks them up in the built file. */
const SERVICE_WORKER = [
  'workbox-core',
  'workbox-precaching',
  'workbox-range-requests',
  'workbox-routing',
  'workbox-strategies',
];

/** Joined in a package before it was published, and installed nowhere: told by hand; the build stops at one that is not. */
const INSIDE_OTHERS: Readonly<Record<string, BundledPackage>> = {
  'safari-14-idb-fix': {
    name: 'safari-14-idb-fix',
    version: 'in dexie',
    author: 'Jake Archibald',
    licence: 'Apache-2.0',
    url: 'https://github.com/jakearchibald/safari-14-idb-fix',
    text: '',
  },
};

const LIST = 'licences.json';

/**
 * Writes `licences.json` beside the built app: every package of which at least a line, a style or a typeface is served, in
 * the page, the workers or the worklet, with its terms. Own code, as a package's own source map has to be asked for what
 * is joined in it (svguitar), and one list has to serve the page's build and those of its workers.
 */
export function licences(root: string): { readonly page: Plugin; readonly worker: () => Plugin } {
  const names = new Set<string>();
  const listOf = (all: Iterable<string>): string =>
    `${JSON.stringify(
      [...all].sort().map((name) => INSIDE_OTHERS[name] ?? describePackage(folderOf(name, root))),
      null,
      1,
    )}\n`;
  const take = (file: string): void => {
    const path = file.split('?')[0]!.replace(/^\0/, '');
    const name = packageOf(path);
    if (name === null) return;
    names.add(name);
    for (const inner of packagesInside(path)) names.add(inner);
  };
  const collect: NonNullable<Plugin['generateBundle']> = (_, bundle) => {
    for (const part of Object.values(bundle))
      if (part.type === 'chunk') {
        for (const [file, { renderedLength }] of Object.entries(part.modules))
          if (renderedLength > 0) take(file);
      } else for (const file of part.originalFileNames) take(file);
  };
  return {
    worker: () => ({ name: 'collect-licences', generateBundle: collect }),
    page: {
      name: 'list-licences',
      generateBundle(options, bundle, isWrite) {
        if (typeof collect === 'function') collect.call(this, options, bundle, isWrite);
        const source = listOf(new Set([...names, ...SERVICE_WORKER]));
        this.emitFile({ type: 'asset', fileName: LIST, source });
      },
      configureServer(server) {
        // Nothing is joined while developing: the page then lists what Twobar itself asks for.
        const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
          dependencies: object;
        };
        server.middlewares.use(`/${LIST}`, (_, answer) => answer.end(listOf(Object.keys(dependencies))));
      },
    },
  };
}
