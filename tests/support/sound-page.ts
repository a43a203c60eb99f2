import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { build } from 'vite';

const TYPES: Record<string, string> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.mp3': 'audio/mpeg',
};

/**
 * Builds `sound-page` as the app is built (relative paths, strict policy) and serves it under a path that is not
 * the root.
 */
export async function serveSoundPage(): Promise<{ url: string; close(): Promise<void> }> {
  const outDir = mkdtempSync(join(tmpdir(), 'twobar-sound-page-'));
  await build({
    configFile: false,
    root: join(import.meta.dirname, 'sound-page'),
    base: './',
    logLevel: 'error',
    worker: { format: 'es' },
    build: { outDir, target: 'es2022' },
  });
  const server = createServer((request, response) => {
    const path = request.url!.replace(/^\/some\/path\//, '').split('?')[0] || 'index.html';
    try {
      const body = readFileSync(join(outDir, path));
      response
        .writeHead(200, { 'content-type': TYPES[extname(path)] ?? 'application/octet-stream' })
        .end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}/some/path/`,
    async close() {
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      rmSync(outDir, { recursive: true, force: true });
    },
  };
}
