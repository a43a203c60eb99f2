import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** A package that is part of what is served, with the terms that must go with it. */
export interface BundledPackage {
  readonly name: string;
  readonly version: string;
  readonly author: string;
  readonly licence: string;
  readonly url: string;
  /** The terms as the package brings them; empty where it brings none. */
  readonly text: string;
}

/** The package that a file comes from, by the last `node_modules` of its path; null for one of our own or of the bundler. */
export const packageOf = (file: string): string | null =>
  /^.*(?:^|\/)node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(file)?.[1] ?? null;

/** Packages that a published file already holds, by the source map beside it. */
export function packagesInside(file: string): string[] {
  const map = `${file}.map`;
  if (!existsSync(map)) return [];
  const { sources } = JSON.parse(readFileSync(map, 'utf8')) as { sources: readonly string[] };
  return sources.flatMap((source) => packageOf(source) ?? []);
}

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly author?: string | { readonly name: string };
  readonly contributors?: readonly (string | { readonly name: string })[];
  readonly homepage?: string;
  readonly repository?: string | { readonly url: string };
}

const plainName = (person: string | { readonly name: string }): string =>
  (typeof person === 'string' ? person : person.name)
    .replace(/^\[(.*)\].*$/, '$1')
    .replace(/\s*[<(].*$|@.*$/, '');

const plainUrl = (url: string): string =>
  url
    .replace(/^git\+/, '')
    .replace(/^(git:\/\/|ssh:\/\/git@|git@github\.com:)/, (start) =>
      start.endsWith(':') ? 'https://github.com/' : 'https://',
    )
    .replace(/^github:|^(?=[\w-]+\/[\w.-]+$)/, 'https://github.com/')
    .replace(/\.git(#.*)?$/, '');

/** Reads a package's manifest and terms. @throws Error where it names no licence: then it may not be served */
export function describePackage(folder: string): BundledPackage {
  const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
  const { name, version, license, author, contributors, homepage, repository } = manifest;
  if (!license) throw new Error(`${name} names no licence and may not be part of what is served`);
  const terms = readdirSync(folder).find((file) => /^(licen[cs]e|copying)/i.test(file));
  const people = [author ?? [], contributors ?? []].flat().map(plainName);
  const text = terms === undefined ? '' : readFileSync(join(folder, terms), 'utf8').trim();
  const source = typeof repository === 'string' ? repository : repository?.url;
  return {
    name,
    version,
    author:
      people[0] ??
      plainName(/Copyright (?:\(c\) |©\s*)?(?:[\d\s,–-]+)?(.+)/i.exec(text)?.[1]?.trim() ?? name),
    licence: license,
    url: plainUrl(source ?? homepage ?? `https://www.npmjs.com/package/${name}`),
    text,
  };
}

/** Where a package is installed. @throws Error where it is not */
export function folderOf(name: string, root: string): string {
  const folder = join(root, 'node_modules', name);
  if (!existsSync(folder)) throw new Error(`${name} is not installed in ${dirname(folder)}`);
  return folder;
}
