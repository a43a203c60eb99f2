import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { testFromMusicXml } from '../../src/exchange/index.ts';
import { defaultSetup, standardTuning } from '../../src/tests-engine/index.ts';
import { put, twobar } from './support.ts';

const setup = defaultSetup({
  ...{ level: 2, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: '0'.repeat(32), name: 'Mock & <more>' },
});
const file = put('sitting.json', setup);

const notesIn = (path: string): number =>
  testFromMusicXml(new Uint8Array(readFileSync(path)), {
    ...{ kind: 'melody', instrument: 'guitar', tuning: setup.tuning, style: 'rock' },
  }).phrase.notes.length;

describe('make --sitting', () => {
  it('prints all material, a line a station and both sides of a choice, the same for the same seed', async () => {
    const first = await twobar(['make', '--sitting', file, '--seed', '5']);
    expect(first).toMatchObject({ exit: 0, problem: null });
    expect((await twobar(['make', '--sitting', file, '--seed', '5'])).out).toBe(first.out);
    expect((await twobar(['make', '--sitting', file, '--seed', '6'])).out).not.toBe(first.out);
    const lines = first.out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { what: string; items: unknown[] });
    expect(lines.map(({ what }) => what)).toEqual([
      ...['sound', 'scales', 'chords', 'unseen', 'unseen', 'melody', 'rhythm', 'questions'],
    ]);
    for (const { items, what } of lines) expect(items.length, what).toBeGreaterThan(0);
  });
  it('writes pages of notes that are read again, and a sheet that names every station, into a folder', async () => {
    // The folder is made where it is not there.
    const folder = join(mkdtempSync(join(tmpdir(), 'twobar-sitting-')), 'june', 'mock');
    await twobar(['make', '--sitting', file, '--seed', '5', '--out', folder]);
    const names = readdirSync(folder).sort();
    expect(names).toEqual(
      expect.arrayContaining([
        ...['04-reading-1.musicxml', '05-melody-1.musicxml', '07-questions-page.musicxml', 'sitting.html'],
      ]),
    );
    // A rhythm comes with the one it is asked about, as a second part: that file is for notation programs alone.
    for (const name of names.filter((one) => one.endsWith('.musicxml') && !one.includes('rhythm')))
      expect(notesIn(join(folder, name)), name).toBeGreaterThan(2);
    const sheet = readFileSync(join(folder, 'sitting.html'), 'utf8');
    expect(sheet).toContain('Mock &#38; &#60;more&#62;');
    expect(sheet.match(/<section>/g)).toHaveLength(8);
    // Whoever asks finds each page of notes, and the questions with their answers in words.
    for (const name of names.filter((one) => one.endsWith('.musicxml'))) expect(sheet).toContain(name);
    const questions = sheet.slice(sheet.indexOf('7. Questions'));
    expect(questions.match(/<li>[^<]*\? [^<]* \/ [^<]* \/ [^<]* — [a-z0-9]/gi)).toHaveLength(5);
    expect(questions).not.toMatch(/\b(240|480|960|null)\b/);
  });
  it('asks every question of every level in words', async () => {
    for (let level = 1; level <= 10; level++) {
      const stations = [{ what: 'questions', weight: 0, level, count: 20 }];
      const folder = mkdtempSync(join(tmpdir(), 'twobar-sitting-'));
      const one = put(`questions-${level}.json`, { ...setup, stations });
      await twobar(['make', '--sitting', one, '--seed', String(level), '--out', folder]);
      const lines = readFileSync(join(folder, 'sitting.html'), 'utf8').match(/<li>.*?<\/li>/g)!;
      expect(lines.length).toBeGreaterThan(3);
      for (const line of lines) expect(line).not.toMatch(/undefined|null|\b\d{3,4}\b|[mMPAd]\d/);
    }
  });
  it('refuses what is no sitting in one sentence', async () => {
    const { exit, problem, out } = await twobar(['make', '--sitting', put('no.json', { version: 1 })]);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(problem).toMatch(/^twobar: [^\n]*no\.json: this is no sitting: id must be given/);
  });
});
