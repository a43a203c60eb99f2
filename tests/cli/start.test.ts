import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { USAGE } from '../../src/cli/run.ts';
import { put } from './support.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const above = mkdtempSync(join(tmpdir(), 'twobar start é '));
let checkout = join(above, 'a checkout');

/** A fresh checkout of what the command line is made of, as `npm ci` leaves it. */
beforeEach(() => {
  rmSync(checkout, { recursive: true, force: true });
  checkout = join(above, 'a checkout');
  mkdirSync(checkout);
  for (const name of ['package.json', 'tsconfig.json', 'src'])
    cpSync(join(ROOT, name), join(checkout, name), {
      recursive: true,
      filter: (path) => !/[\\/]src[\\/](ui|store)$/.test(path),
    });
  symlinkSync(join(ROOT, 'node_modules'), join(checkout, 'node_modules'), 'dir');
});
afterAll(() => rmSync(above, { recursive: true, force: true }));

const start = (...args: string[]) =>
  new Promise<{ exit: number | null; out: string; err: string }>((done) => {
    const child = spawn(process.execPath, [join(checkout, 'src/cli/start.js'), ...args]);
    let [out, err] = ['', ''];
    child.stdout.on('data', (part) => (out += part));
    child.stderr.on('data', (part) => (err += part));
    child.on('close', (exit) => done({ exit, out, err }));
  });
const help = { exit: 0, out: USAGE, err: '' };
const bundles = () => readdirSync(join(checkout, '.cache/cli'));

const filesOf = (folder: string) =>
  readdirSync(folder)
    .map((name) => `${name} ${statSync(join(folder, name)).size}`)
    .sort()
    .join('\n');

/** Another text of the same length in a source, its time put back. */
function change(path: string, from: string, to: string) {
  const file = join(checkout, path);
  const { atime, mtime } = statSync(file);
  const text = readFileSync(file, 'utf8');
  expect(text).toContain(from);
  expect(to).toHaveLength(from.length);
  writeFileSync(file, text.replaceAll(from, to));
  utimesSync(file, atime, mtime);
}

describe('the start of the command line', () => {
  it('bundles the sources once and starts from the bundle thereafter', async () => {
    expect(await start('--help')).toEqual(help);
    const [name, ...others] = bundles();
    expect(others).toEqual([]);
    const main = join(checkout, '.cache/cli', name!, 'main.js');
    // What is run is the bundle, not the sources.
    writeFileSync(main, readFileSync(main, 'utf8').replace('twobar make', 'TWOBAR make'));
    expect((await start('--help')).out).toBe(USAGE.replace('twobar make', 'TWOBAR make'));
    expect(bundles()).toEqual([name]);
  });

  it('is never out of date: a source changed without change of length or time is seen, also back again', async () => {
    expect(await start('--help')).toEqual(help);
    change('src/cli/run.ts', 'twobar make', 'twobar bake');
    expect((await start('--help')).out).toBe(USAGE.replaceAll('twobar make', 'twobar bake'));
    change('src/cli/run.ts', 'twobar bake', 'twobar make');
    expect(await start('--help')).toEqual(help);
    expect(bundles()).toHaveLength(2);
  });

  it('sees what was installed anew', async () => {
    rmSync(join(checkout, 'node_modules'));
    mkdirSync(join(checkout, 'node_modules'));
    for (const name of readdirSync(join(ROOT, 'node_modules')))
      if (name !== '.package-lock.json')
        symlinkSync(join(ROOT, 'node_modules', name), join(checkout, 'node_modules', name));
    for (const version of ['1', '2']) {
      writeFileSync(join(checkout, 'node_modules/.package-lock.json'), `{"version":${version}}`);
      expect(await start('--help')).toEqual(help);
      expect(bundles()).toHaveLength(Number(version));
    }
  });

  it('may be called several times at once, the first time too', async () => {
    let running = true;
    const seen = new Set<string>();
    const watch = async () => {
      // A bundle that can be found is whole from the first moment on.
      for (; running; await new Promise((next) => setImmediate(next)))
        if (existsSync(join(checkout, '.cache/cli')))
          for (const name of bundles().filter((name) => /^[0-9a-f]+$/.test(name)))
            seen.add(filesOf(join(checkout, '.cache/cli', name)));
    };
    const watching = watch();
    const calls = await Promise.all(Array.from({ length: 4 }, () => start('--help')));
    running = false;
    await watching;
    expect(calls).toEqual([help, help, help, help]);
    const [name, ...others] = bundles();
    expect(others).toEqual([]);
    expect([...seen]).toEqual([filesOf(join(checkout, '.cache/cli', name!))]);
  });

  it('works where no bundle can be kept, with the same refusals', async () => {
    mkdirSync(join(checkout, '.cache'));
    writeFileSync(join(checkout, '.cache/cli'), 'in the way');
    expect(await start('--help')).toEqual(help);
    const refused = { exit: 2, out: '', err: 'twobar: --seed is missing\n' };
    const wanting = ['make', '--kind', 'melody', '--level', '1'];
    expect(await start(...wanting)).toEqual(refused);
    rmSync(join(checkout, '.cache'), { recursive: true });
    expect(await start(...wanting)).toEqual(refused);
    expect(bundles()).toHaveLength(1);
  });

  it('finds the sounds, also after the checkout was moved with its bundle', async () => {
    const made = await start('make', '--kind', 'rhythm', '--level', '1', '--seed', '1');
    const test = put('start.json', made.out);
    renameSync(checkout, (checkout = join(above, 'moved')));
    const wav = join(above, 'moved.wav');
    expect(await start('sound', test, '--out', wav, '--part', 'phrase')).toEqual({
      exit: 0,
      out: '',
      err: '',
    });
    expect(existsSync(wav)).toBe(true);
  });

  it('deletes bundles of older states after a day', async () => {
    const old = join(checkout, '.cache/cli/of-yesterday');
    const recent = join(checkout, '.cache/cli/of-today');
    for (const folder of [old, recent]) mkdirSync(folder, { recursive: true });
    const yesterday = Date.now() / 1000 - 25 * 3600;
    utimesSync(old, yesterday, yesterday);
    expect(await start('--help')).toEqual(help);
    expect([existsSync(old), existsSync(recent)]).toEqual([false, true]);
  });
});
