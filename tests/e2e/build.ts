import { execFile } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';

export const ROOT = resolve(import.meta.dirname, '../..');
/** Where the app is built to; another place where several work in one tree at a time. */
export const OUT = resolve(ROOT, process.env['TWOBAR_E2E_OUT'] ?? '.cache/e2e');

/** Newest change below a folder, ms. */
function newestMs(folder: string): number {
  return Math.max(
    0,
    ...readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs),
  );
}

/** Before all tests: builds the app as `npm run build` does, unless nothing has changed since the last build here. */
export default async function build(): Promise<void> {
  const changed = Math.max(newestMs(join(ROOT, 'src')), statSync(join(ROOT, 'vite.config.ts')).mtimeMs);
  const built = join(OUT, 'index.html');
  if (existsSync(built) && statSync(built).mtimeMs > changed) return;
  const env: NodeJS.ProcessEnv = { ...process.env, NODE_ENV: 'production' };
  delete env['VITEST'];
  await promisify(execFile)(
    process.execPath,
    ['node_modules/vite/bin/vite.js', 'build', '--outDir', OUT, '--logLevel', 'error'],
    { cwd: ROOT, env },
  );
}
