import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createServer, preview } from 'vite';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { HEADERS } from '../../src/ui/hosting.ts';

const ROOT = resolve(import.meta.dirname, '../..');

async function expectSent(url: string, paths: readonly string[]): Promise<void> {
  for (const path of paths) {
    const { headers } = await fetch(url + path);
    for (const [name, value] of Object.entries(HEADERS))
      expect(headers.get(name), `${path} ${name}`).toBe(value);
  }
}

describe('what a host should send', () => {
  it('is sent by the preview server with every file, as its configuration has it', async () => {
    const out = mkdtempSync(join(tmpdir(), 'twobar-dist-'));
    writeFileSync(join(out, 'index.html'), '<title>Twobar</title>');
    writeFileSync(join(out, 'a.js'), '0');
    const server = await preview({
      configFile: join(ROOT, 'vite.config.ts'),
      root: ROOT,
      build: { outDir: out },
      preview: { port: 0, host: '127.0.0.1' },
      logLevel: 'error',
    });
    onTestFinished(async () => {
      await server.close();
      rmSync(out, { recursive: true });
    });
    await expectSent(server.resolvedUrls!.local[0]!, ['', 'a.js', 'nothing.js']);
  });
  it('is sent by the development server with the page and with what it makes of the sources', async () => {
    // The configuration leaves them out where it serves tests.
    vi.stubEnv('VITEST', undefined);
    const cacheDir = mkdtempSync(join(tmpdir(), 'twobar-dev-'));
    const server = await createServer({
      configFile: join(ROOT, 'vite.config.ts'),
      cacheDir,
      server: { port: 0, host: '127.0.0.1', ws: false, watch: null },
      logLevel: 'error',
    });
    onTestFinished(async () => {
      await server.close();
      vi.unstubAllEnvs();
      rmSync(cacheDir, { recursive: true, force: true });
    });
    await server.listen();
    await expectSent(server.resolvedUrls!.local[0]!, ['', 'hosting.ts', 'icon.svg']);
  });
  it('is what the README says, word for word', () => {
    const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
    for (const [name, value] of Object.entries(HEADERS)) expect(readme).toContain(`\n${name}: ${value}\n`);
  });
  it('forbids framing there, and nothing pretends to in the page', () => {
    expect(HEADERS['Content-Security-Policy']).toContain("frame-ancestors 'none'");
    expect(readFileSync(join(ROOT, 'src/ui/index.html'), 'utf8')).not.toContain('frame-ancestors');
  });
});
