import { spawn } from 'node:child_process';
import {
  chmodSync,
  closeSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  symlinkSync,
  watch,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWav } from '../../src/exchange/index.ts';
import { plain } from '../tests-engine/procedure/some-tests.ts';
import { smallDisk } from '../support/small-disk.ts';
import { folder, plucked, put } from './support.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const PROGRAM = join(ROOT, 'src/cli/start.js');
const isRoot = process.getuid?.() === 0;
const isLinux = process.platform === 'linux';

interface Ended {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}
type Feed = (stdin: NodeJS.WritableStream) => void | Promise<void>;

/** The program as a process. `stdout`: a descriptor that its output goes to; `as`: another user. */
function run(
  args: readonly string[],
  { feed, stdin, stdout, as }: { feed?: Feed; stdin?: number; stdout?: number; as?: number } = {},
): Promise<Ended> {
  return new Promise((done) => {
    const child = spawn(process.execPath, [PROGRAM, ...args], {
      cwd: ROOT,
      stdio: [stdin ?? 'pipe', stdout ?? 'pipe', 'pipe'],
      ...(as === undefined ? {} : { uid: as, gid: as }),
    });
    let [out, err] = ['', ''];
    child.stdout?.on('data', (part) => (out += part));
    child.stderr!.on('data', (part) => (err += part));
    child.stdin?.on('error', () => undefined);
    if (feed) void feed(child.stdin!);
    else child.stdin?.end();
    child.on('close', (exit) => done({ exit, out, err }));
  });
}

/** Exit 2 and one sentence on standard error; nothing of the program's inside. */
function expectRefused({ exit, out, err }: Ended, says: RegExp): void {
  expect(err).toMatch(/^twobar: [^\n\x1b]+\n$/);
  expect(err).toMatch(says);
  expect(err).not.toMatch(/\bat \S+:\d+|node:|Error|undefined/);
  expect({ exit, out }).toEqual({ exit: 2, out: '' });
}

const test = put('trouble-test.json', plain);
/** Long enough to be written in more than one piece. */
const slow = put('slow-test.json', { ...plain, tempoBpm: 30 });
/** Where the links in a folder lead; none where it may not be read. */
function linksOf(path: string): string[] {
  try {
    return readdirSync(path).flatMap((name) => {
      try {
        return readlinkSync(join(path, name));
      } catch {
        return [];
      }
    });
  } catch {
    return [];
  }
}
/** What is left in a folder beside these names. */
const others = (path: string, ...names: string[]) =>
  readdirSync(path).filter((name) => !names.includes(name));

// The first start bundles the sources.
beforeAll(() => run(['--help']));

describe('--out', () => {
  it('is written beside and put into its place, also over an older file and through a link to it', async () => {
    const place = mkdtempSync(join(folder, 'out-'));
    const [wav, link] = [join(place, 'a.wav'), join(place, 'link.wav')];
    writeFileSync(wav, 'older', { mode: 0o640 });
    symlinkSync(wav, link);
    expect(await run(['sound', test, '--out', link, '--part', 'backing'])).toEqual({
      exit: 0,
      out: '',
      err: '',
    });
    expect(readFileSync(wav).subarray(0, 4).toString()).toBe('RIFF');
    expect(readFileSync(link).length).toBe(readFileSync(wav).length);
    expect(others(place, 'a.wav', 'link.wav')).toEqual([]);
  });
  it('is never written over what it is made from', async () => {
    const own = put('own.json', plain);
    const linked = join(folder, 'own-link.json');
    symlinkSync(own, linked);
    for (const out of [own, linked])
      expectRefused(
        await run(['sound', own, '--out', out]),
        /read by this very command; write to another file/,
      );
    expect(JSON.parse(readFileSync(own, 'utf8'))).toEqual(JSON.parse(JSON.stringify(plain)));
  });
  it('says what stands in the way of writing, in words of writing', async () => {
    expectRefused(await run(['sound', test, '--out', folder]), /it is a folder/);
    expectRefused(await run(['sound', test, '--out', join(folder, 'no/a.wav')]), /there is no such folder/);
    expectRefused(
      await run(['sound', test, '--out', join(folder, `${'n'.repeat(300)}.wav`)]),
      /the name is too long/,
    );
  });
  it.skipIf(!isRoot || !isLinux)('may not be permitted', async () => {
    const place = mkdtempSync(join(folder, 'closed-'));
    chmodSync(place, 0o755);
    chmodSync(folder, 0o755);
    const ended = await run(['sound', test, '--out', join(place, 'a.wav')], { as: 65_534 });
    expectRefused(ended, /writing it is not permitted/);
  });
  it('goes into a pipe as it is', async () => {
    const { exit, err } = await run(['sound', test, '--out', '/dev/null']);
    expect({ exit, err }).toEqual({ exit: 0, err: '' });
    expect(others('/dev').filter((name) => name.startsWith('.twobar'))).toEqual([]);
  });
  it.skipIf(!isLinux)('that is only begun goes with Ctrl-C, and the older file stays', async () => {
    const place = mkdtempSync(join(folder, 'broken-'));
    const wav = join(place, 'a.wav');
    writeFileSync(wav, 'older');
    const begun = () => readdirSync(place).filter((name) => name.startsWith('.twobar-'));
    // Held still while the file beside is there, so that the key is pressed exactly then; tried until that was so.
    let caught = false;
    for (let i = 0; i < 150 && !caught; i++) {
      const child = spawn(process.execPath, [PROGRAM, 'sound', slow, '--out', wav], { cwd: ROOT });
      const ended = new Promise<unknown>((done) => child.on('close', (_, signal) => done(signal)));
      await new Promise<void>((there) => {
        const watching = watch(place, () => {
          if (begun().length === 0) return;
          child.kill('SIGSTOP');
          watching.close();
          there();
        });
        child.once('exit', () => (watching.close(), there()));
      });
      caught = begun().length > 0;
      child.kill('SIGINT');
      child.kill('SIGCONT');
      const signal = await ended;
      if (!caught) continue;
      expect(signal).toBe('SIGINT');
      expect(readFileSync(wav, 'utf8')).toBe('older');
    }
    expect(caught).toBe(true);
    expect(others(place, 'a.wav')).toEqual([]);
  });
});

describe('a full disk', () => {
  const disk = smallDisk(2);
  afterAll(() => disk?.remove());
  it.skipIf(!disk)('leaves the older file as it was, and nothing beside it', async () => {
    const wav = join(disk!.path, 'a.wav');
    writeFileSync(wav, 'older');
    disk!.fill();
    const ended = await run(['sound', test, '--out', wav]);
    disk!.makeRoom();
    expectRefused(ended, /the disk is full/);
    expect(readFileSync(wav, 'utf8')).toBe('older');
    expect(others(disk!.path, 'a.wav')).toEqual([]);
  });
  it.skipIf(!existsSync('/dev/full'))('under standard output', async () => {
    const full = openSync('/dev/full', 'w');
    const ended = await run(['make', '--kind', 'melody', '--level', '1', '--seed', '1'], { stdout: full });
    closeSync(full);
    expectRefused(ended, /standard output: the disk is full/);
  });
});

describe('an input', () => {
  it('that is a folder, is not there, or is no UTF-8', async () => {
    expectRefused(await run(['hear', folder]), /it is a folder/);
    expectRefused(await run(['hear', join(folder, 'none.wav')]), /there is no such file/);
    const latin = put('latin.json', new Uint8Array([0x22, 0xe4, 0x22]));
    expectRefused(
      await run(['sound', latin, '--out', join(folder, 'x.wav')]),
      /not UTF-8 text; save it as UTF-8/,
    );
  });
  it.skipIf(!isRoot || !isLinux)('that may not be read', async () => {
    const closed = put('closed.wav', 'RIFF');
    chmodSync(closed, 0o600);
    chmodSync(folder, 0o755);
    expectRefused(await run(['hear', closed], { as: 65_534 }), /reading it is not permitted/);
  });
  it.skipIf(!isLinux)('whose name is not UTF-8', async () => {
    const place = mkdtempSync(join(folder, 'names-'));
    const named = Buffer.concat([Buffer.from(`${place}/a`), Buffer.from([0xff]), Buffer.from('.wav')]);
    writeFileSync(named, 'RIFF');
    // A shell hands the bytes on as they are; Node's own spawn would not.
    const ended = await new Promise<Ended>((done) => {
      const child = spawn('sh', ['-c', `"${process.execPath}" "${PROGRAM}" hear "${place}"/a*.wav`], {
        cwd: ROOT,
      });
      let [out, err] = ['', ''];
      child.stdout.on('data', (part) => (out += part));
      child.stderr.on('data', (part) => (err += part));
      child.on('close', (exit) => done({ exit, out, err }));
    });
    expectRefused(ended, /its name is not UTF-8; rename it/);
  });
  it('whose name a terminal would obey is shown in plain signs', async () => {
    const { exit, err } = await run(['hear', '\x1b[2Jnone\x07‮.wav']);
    expect({ exit, err }).toEqual({
      exit: 2,
      err: 'twobar: \\x1b[2Jnone\\x07\\u202e.wav: there is no such file\n',
    });
  });
  it('nested without end is called so, as a file and as a line', async () => {
    const deep = `${'['.repeat(2e6)}${']'.repeat(2e6)}`;
    const file = put('deep.json', deep);
    expectRefused(await run(['sound', file, '--out', join(folder, 'x.wav')]), /nested too deeply/);
    expectRefused(await run(['mark', '--target', file, '--played', file]), /nested too deeply/);
    const line = await run(['mark', '--pairs', '-'], { feed: (stdin) => void stdin.end(`{"id":${deep}}\n`) });
    expectRefused(line, /line 1: it is nested too deeply/);
  });
});

describe('standard input', () => {
  it('with a line of 600 MB is refused as soon as the line is too long', async () => {
    const block = Buffer.alloc(2 ** 20, 0x31);
    let sent = 0;
    const ended = await run(['mark', '--pairs', '-'], {
      feed: async (stdin) => {
        for (; sent < 600 && stdin.writable; sent++)
          if (!stdin.write(block))
            await Promise.race([
              new Promise((next) => stdin.once('drain', next)),
              new Promise((next) => stdin.once('close', next)),
            ]);
        stdin.end();
      },
    });
    expectRefused(ended, /line 1: it is longer than 16 MiB/);
    expect(sent).toBeLessThan(100);
  });
  it('of broken UTF-8, or that is a folder', async () => {
    const bytes = Buffer.from([0x7b, 0xff, 0x7d, 0x0a]);
    expectRefused(
      await run(['mark', '--pairs', '-'], { feed: (stdin) => void stdin.end(bytes) }),
      /line 1: it is not UTF-8 text/,
    );
    const here = openSync(folder, 'r');
    const ended = await run(['mark', '--pairs', '-'], { stdin: here });
    closeSync(here);
    expectRefused(ended, /standard input: it is a folder/);
  });
  it('cut into pieces anywhere, with any line ends, gives the same marks', async () => {
    const pair = (id: string) => `{"id":"${id}","target":[0,1],"played":[0,1]}`;
    const whole = `${pair('ä')}\r\n\n${pair('b')}\n${pair('c')}`;
    const bytes = Buffer.from(whole);
    const cut = await run(['mark', '--pairs', '-'], {
      feed: async (stdin) => {
        for (const byte of bytes) {
          stdin.write(Buffer.from([byte]));
          await new Promise((next) => setImmediate(next));
        }
        stdin.end();
      },
    });
    expect(cut.exit).toBe(0);
    expect(
      cut.out
        .trim()
        .split('\n')
        .map((line) => (JSON.parse(line) as { id: string }).id),
    ).toEqual(['ä', 'b', 'c']);
  });
});

describe('a WAV file', () => {
  const take = plucked([{ atSec: 0.3, midi: 57 }], 1.5);
  /** The same sound behind an RF64 header (EBU Tech 3306), saying that there are so many bytes of it. */
  function rf64(length: number): Uint8Array {
    const sound = take.subarray(44);
    const file = new Uint8Array(12 + 36 + 24 + 8 + sound.length);
    const view = new DataView(file.buffer);
    const word = (at: number, text: string) => file.set(Buffer.from(text), at);
    word(0, 'RF64');
    view.setUint32(4, 0xffff_ffff, true);
    word(8, 'WAVEds64');
    view.setUint32(16, 28, true);
    view.setBigUint64(20, BigInt(file.length - 8), true);
    view.setBigUint64(28, BigInt(length), true);
    file.set(take.subarray(12, 36), 48);
    word(72, 'data');
    view.setUint32(76, 0xffff_ffff, true);
    file.set(sound, 80);
    return file;
  }
  it('in RF64 is heard, and cut short it is called so', async () => {
    const length = take.length - 44;
    const whole = await run(['hear', put('long.wav', rf64(length)), '--json']);
    expect(JSON.parse(whole.out)).toEqual(
      JSON.parse((await run(['hear', put('plain.wav', take), '--json'])).out),
    );
    expectRefused(await run(['hear', put('cut64.wav', rf64(length + 8))]), /cut short: \d+ of \d+ bytes/);
  });
  it('whose sound lies in a list of waves is called so', async () => {
    const listed = new Uint8Array(12 + 24 + 12 + 8 + 100);
    listed.set(take.subarray(0, 36));
    listed.set(Buffer.from('LIST'), 36);
    new DataView(listed.buffer).setUint32(40, 112, true);
    listed.set(Buffer.from('wavldata'), 44);
    expectRefused(await run(['hear', put('wavl.wav', listed)]), /in pieces \(a list of waves\)/);
  });
  it('is heard in blocks as it is whole: both channels, any format, also through a pipe', async () => {
    const samples = new Float32Array(3 * 44_100);
    for (let i = 0; i < samples.length; i++)
      samples[i] = 0.3 * Math.exp(-(i % 44_100) / 9000) * Math.sin((2 * Math.PI * 220 * i) / 44_100);
    const mono = put('mono.wav', writeWav(samples, 44_100));
    const heard = (await run(['hear', mono, '--json'])).out;
    expect((JSON.parse(heard) as { notes: unknown[] }).notes.length).toBeGreaterThan(1);
    const source = readFileSync(mono);
    const stereo = Buffer.alloc(44 + 2 * (source.length - 44));
    source.copy(stereo, 0, 0, 44);
    stereo.writeUInt16LE(2, 22);
    stereo.writeUInt32LE(44_100 * 4, 28);
    stereo.writeUInt16LE(4, 32);
    stereo.writeUInt32LE(stereo.length - 8, 4);
    stereo.writeUInt32LE(stereo.length - 44, 40);
    for (let i = 44; i < source.length; i += 2) source.copy(stereo, 44 + 2 * (i - 44) + 2, i, i + 2);
    expect((await run(['hear', put('stereo.wav', stereo), '--json'])).out).toBe(heard);
    const shell = await new Promise<string>((done) => {
      const child = spawn(
        'sh',
        ['-c', `cat "${mono}" | "${process.execPath}" "${PROGRAM}" hear /dev/stdin --json`],
        {
          cwd: ROOT,
        },
      );
      let out = '';
      child.stdout.on('data', (part) => (out += part));
      child.on('close', () => done(out));
    });
    expect(shell).toBe(heard);
    const moved = join(folder, 'moved-away.wav');
    mkdirSync(join(folder, 'elsewhere'));
    renameSync(mono, moved);
    expectRefused(await run(['hear', mono]), /there is no such file/);
  });
  it.skipIf(!isLinux)('from a pipe leaves nothing behind, not even when the program is killed', async () => {
    const place = mkdtempSync(join(folder, 'tmp-'));
    const shell = spawn(
      'sh',
      [
        '-c',
        `(cat "${put('piped.wav', take)}"; sleep 30) | exec "${process.execPath}" "${PROGRAM}" hear /dev/stdin`,
      ],
      { cwd: ROOT, env: { ...process.env, TMPDIR: place }, detached: true },
    );
    // What it holds open has no name any more.
    const held = () =>
      readdirSync('/proc')
        .filter((name) => /^\d+$/.test(name))
        .flatMap((pid) => linksOf(`/proc/${pid}/fd`))
        .filter((link) => link.startsWith(place));
    await expect.poll(held, { timeout: 30_000 }).toHaveLength(1);
    expect(held()[0]).toMatch(/\.twobar-[0-9a-f]+ \(deleted\)$/);
    expect(readdirSync(place)).toEqual([]);
    process.kill(-shell.pid!, 'SIGKILL');
    await expect.poll(held, { timeout: 30_000 }).toEqual([]);
    expect(readdirSync(place)).toEqual([]);
  });
  it('with pictures before the sound is heard; with a backing, or of chords, it must be a take', async () => {
    const picture = Buffer.alloc(8 + 3_000_000);
    picture.write('PICT');
    picture.writeUInt32LE(3_000_000, 4);
    const pictured = put('pictured.wav', Buffer.concat([take.subarray(0, 36), picture, take.subarray(36)]));
    const heard = await run(['hear', pictured, '--json']);
    expect(JSON.parse(heard.out)).toEqual(
      JSON.parse((await run(['hear', put('bare.wav', take), '--json'])).out),
    );
    const long = put('long-take.wav', writeWav(new Float32Array(16 * 60 * 8000), 8000));
    for (const args of [
      ['hear', long, '--chords'],
      ['hear', long, '--backing', pictured],
      ['hear', pictured, '--backing', long],
    ])
      expectRefused(
        await run(args),
        /lasts 16 minutes; (of chords|with a backing) at most 15 are read, so cut/,
      );
  });
  it.skipIf(!isLinux || !existsSync('/usr/bin/script'))(
    'says on a terminal how far it is, and takes the words away; with a backing too',
    async () => {
      const path = put('told.wav', plucked([{ atSec: 0.3, midi: 57 }], 8));
      for (const more of [[], ['--backing', path]]) {
        const words = [process.execPath, PROGRAM, 'hear', path, ...more].join(' ');
        const shown = await new Promise<string>((done) => {
          const child = spawn('script', ['-qec', words, '/dev/null'], { cwd: ROOT });
          let out = '';
          child.stdout.on('data', (part) => (out += part));
          child.on('close', () => done(out));
        });
        expect(shown).toMatch(/\rlistening: \d+ %/);
        // The last word of it is that the line is empty again, before what was heard.
        const [, after] = shown.split('\r\x1b[K');
        expect(after).toMatch(/notes?, tuned|refused/);
        expect(after).not.toContain('listening');
      }
    },
  );
});
