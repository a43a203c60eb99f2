import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readWav } from '../../src/exchange/index.ts';
import { folder, put } from './support.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const start = (args: readonly string[], input = '') =>
  spawnSync(process.execPath, ['src/cli/start.js', ...args], {
    cwd: ROOT,
    input,
    encoding: 'utf8',
  });

describe('the program as a process', () => {
  it('makes a test, sounds its phrase, hears it again and gives it full marks', () => {
    const made = start(['make', '--kind', 'melody', '--level', '1', '--seed', '11']);
    expect([made.status, made.stderr]).toEqual([0, '']);
    const test = put('made.json', made.stdout);
    const wav = join(folder, 'phrase.wav');
    const sounded = start(['sound', test, '--out', wav, '--part', 'phrase']);
    expect([sounded.status, sounded.stderr, sounded.stdout]).toEqual([0, '', '']);
    expect(readWav(readFileSync(wav)).sampleRate).toBe(44_100);
    // The phrase starts a quarter of a second into its sheet.
    const marked = start(['mark', '--test', test, '--take', wav, '--start', '0.25', '--json']);
    expect([marked.status, marked.stderr]).toEqual([0, '']);
    expect(JSON.parse(marked.stdout).mark).toBeGreaterThanOrEqual(95);
  });
  it('answers pairs from a pipe, and bad input with exit 2 and one line on standard error', () => {
    const pairs = start(['mark', '--pairs', '-'], '{"id":"a","target":[0,1],"played":[0,1]}\n');
    expect([pairs.status, JSON.parse(pairs.stdout).id]).toEqual([0, 'a']);
    const bad = start(['hear', put('bad.wav', 'RIFF____WAVEdata')]);
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    expect(bad.stderr).toMatch(/^twobar: [^\n]+\n$/);
  });
});
