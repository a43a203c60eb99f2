import { readFileSync } from 'node:fs';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { preview } from 'vite';
import { describe, expect, it, onTestFinished } from 'vitest';
import { HEADERS } from '../../src/ui/hosting.ts';

const ROOT = resolve(import.meta.dirname, '../..');

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
    const url = server.resolvedUrls!.local[0]!;
    for (const path of ['', 'a.js', 'nothing.js']) {
      const { headers } = await fetch(url + path);
      for (const [name, value] of Object.entries(HEADERS))
        expect(headers.get(name), `${path} ${name}`).toBe(value);
    }
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
