// @ts-check
// Starts the command line. Node 20 reads no TypeScript, and translating it at every start (tsx) takes half a second:
// so the sources are bundled once, and the bundle is kept in .cache/cli under a hash of all that goes into it.
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const source = join(root, 'src');
const entry = join(source, 'cli', 'main.ts');
const cache = join(root, '.cache', 'cli');

/** Rooms the command line may not import from (tests/architecture.test.ts): what changes there changes nothing here. */
const APART = ['ui', 'store'];
/** What the bundle does not hold: compiled for the machine. */
const NATIVE = ['node-web-audio-api'];
/** A bundle of an older state is left to those still running from it for a day. */
const KEPT_MS = 24 * 3600 * 1000;

/**
 * Sources below a folder, in a fixed order.
 * @param {string} folder @param {readonly string[]} apart folders in it that are left out @returns {string[]}
 */
function sourcesBelow(folder, apart = []) {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((file) => {
      const path = join(folder, file.name);
      if (file.isDirectory()) return apart.includes(file.name) ? [] : sourcesBelow(path);
      return /\.(ts|js|json)$/.test(file.name) ? [path] : [];
    });
}

const inputs = () => [
  ...sourcesBelow(source, APART),
  join(root, 'tsconfig.json'),
  // What is installed, as npm writes it down.
  join(root, 'node_modules', '.package-lock.json'),
];

/**
 * Contents, not times: those of a file system may be coarse, set back or copied. With their full paths: the bundle
 * names the place of its sources.
 * @param {readonly string[]} files
 */
function keyOf(files) {
  const hash = createHash('sha256');
  for (const file of files) {
    const content = readFileSync(file);
    hash.update(`\n${file} ${content.length}\n`).update(content);
  }
  return hash.digest('hex').slice(0, 32);
}

/**
 * Writes the bundle beside its place and moves it there in one step: two calls at once do not disturb each other.
 * @param {readonly string[]} files @param {string} folder
 */
async function bundle(files, folder) {
  const { build } = await import('esbuild');
  const beside = `${folder}.${randomBytes(8).toString('hex')}`;
  try {
    mkdirSync(cache, { recursive: true });
    const { metafile } = await build({
      absWorkingDir: root,
      entryPoints: [entry],
      outdir: beside,
      bundle: true,
      // A command is read when it is asked for, as in the sources.
      splitting: true,
      format: 'esm',
      platform: 'node',
      target: 'node20.6',
      mainFields: ['module', 'main'],
      external: NATIVE,
      // main.ts finds the sounds from where it lies itself.
      define: { 'import.meta.url': JSON.stringify(pathToFileURL(entry).href) },
      metafile: true,
      logLevel: 'silent',
    });
    const known = new Set(files);
    const unknown = Object.keys(metafile.inputs)
      .map((path) => join(root, path))
      .find((path) => path.startsWith(source + sep) && !known.has(path));
    if (unknown) throw new Error(`${unknown} is bundled but not watched`);
    renameSync(beside, folder);
  } catch (error) {
    rmSync(beside, { recursive: true, force: true });
    if (!existsSync(join(folder, 'main.js'))) throw error;
  }
}

/** Deletes what is old, but never fails: another call may be doing the same. @param {string} folder */
function tidy(folder) {
  for (const path of readdirSync(cache).map((name) => join(cache, name)))
    try {
      if (path !== folder && statSync(path).mtimeMs < Date.now() - KEPT_MS)
        rmSync(path, { recursive: true, force: true });
    } catch {
      // It stays until the next time.
    }
}

/** The bundle of the sources as they are; null where none can be made or kept (a checkout that may only be read). @returns {Promise<string | null>} */
async function bundled() {
  try {
    const files = inputs();
    const folder = join(cache, keyOf(files));
    const main = join(folder, 'main.js');
    if (!existsSync(main)) {
      await bundle(files, folder);
      tidy(folder);
    }
    return main;
  } catch {
    return null;
  }
}

const main = await bundled();
if (main === null) (await import('tsx/esm/api')).register();
await import(pathToFileURL(main ?? entry).href);
