import { beforeAll, describe, expect, it } from 'vitest';
import { makeStrum, playChords, type MadeStrum } from '../../audio-fixtures/chords/index.ts';
import { babble } from '../../audio-fixtures/effects/voice.ts';
import { loadBanks } from '../../audio-fixtures/index.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { writeWav } from '../../src/exchange/index.ts';
import { put, twobar } from './support.ts';

/** Two strums of real recorded nylon strings, one after the other. */
let path: string;
let first: MadeStrum;
let second: MadeStrum;
beforeAll(async () => {
  const bank = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
  first = makeStrum({ kind: 'open', fault: 'right', effect: 'clean', bank, seed: 3 })!;
  second = makeStrum({ kind: 'barre', fault: 'no third', effect: 'clean', bank, seed: 4 })!;
  const samples = new Float32Array(first.signal.length + second.signal.length);
  samples.set(first.signal);
  samples.set(second.signal, first.signal.length);
  path = put('strums.wav', writeWav(samples, 44_100));
});

const refused = async (args: readonly string[], message: RegExp) => {
  const { exit, problem, out } = await twobar(args);
  expect({ exit, out }).toEqual({ exit: 2, out: '' });
  expect(problem).toMatch(message);
};

describe('hear --chords', () => {
  it('lists strums with their times and what sounds', async () => {
    const { strums } = JSON.parse((await twobar(['hear', path, '--chords', '--json'])).out);
    const near = strums.filter(
      (s: { firstSec: number }) =>
        Math.abs(s.firstSec - first.firstSec) < 0.03 ||
        Math.abs(s.firstSec - first.signal.length / 44_100 - second.firstSec) < 0.03,
    );
    expect(near).toHaveLength(2);
    const classes = (notes: readonly number[]) => [...new Set(notes.map((n) => n % 12))].sort();
    expect(classes(near[0].sounding.map((n: { midi: number }) => n.midi))).toEqual(classes(first.sounding));
    expect(near[0]).not.toHaveProperty('judged');
  });

  it('answers chords that are asked by name', async () => {
    const name = first.chord.name;
    const { out } = await twobar(['hear', path, '--chords', '--asked', name, '--json']);
    const { strums } = JSON.parse(out);
    const own = strums.find((s: { firstSec: number }) => Math.abs(s.firstSec - first.firstSec) < 0.03);
    expect(own).toMatchObject({ asked: name, judged: { verdict: 'yes' } });
    const table = (await twobar(['hear', path, '--chords', '--asked', name])).out;
    expect(table).toMatch(/verdict/);
    expect(table).toMatch(/octaves and strings are guesses/);
  });

  it('refuses what is no chord, and options that go with chords alone', async () => {
    await refused(['hear', path, '--chords', '--asked', 'H7'], /"H7" is no chord name; write for example/);
    await refused(['hear', path, '--asked', 'C'], /--asked goes with --chords/);
    await refused(['hear', path, '--driven'], /--driven goes with --chords/);
    await refused(['hear', path, '--chords', '--from', '2'], /--from goes with --backing/);
  });
});

describe('make --kind chords', () => {
  it('gives lists and progressions, the same for the same seed', async () => {
    const args = ['make', '--kind', 'chords', '--seed', '7', '--shapes', 'open,barre', '--length', '5'];
    const { out } = await twobar(args);
    expect(out).toBe((await twobar(args)).out);
    const test = JSON.parse(out);
    expect(test).toMatchObject({ version: 1, kind: 'chords', seed: 7 });
    expect(test.chords).toHaveLength(5);
    expect(test.chords.every((c: { startTicks: unknown }) => c.startTicks === null)).toBe(true);
    const two = (await twobar([...args, '--how', 'progression', '--count', '2'])).out.trimEnd().split('\n');
    expect(two.map((line) => JSON.parse(line).seed)).toEqual([7, 8]);
    expect(JSON.parse(two[0]!).chords[1].startTicks).toBe(1920);
  });
  it('refuses what it does not know', async () => {
    await refused(
      ['make', '--kind', 'chords', '--seed', '1', '--shapes', 'round'],
      /--shapes must be some of open,/,
    );
    await refused(['make', '--kind', 'chords', '--seed', '1', '--level', '2'], /--level does not go with/);
    await refused(
      ['make', '--kind', 'melody', '--level', '1', '--seed', '1', '--how', 'named'],
      /--how goes with --kind chords/,
    );
  });
});

describe('mark of chords', () => {
  const START = 1.5;
  /** A test of four bars, and its take with strums moved or changed. */
  async function played(change: (notes: number[], index: number) => { notes: number[]; lateSec: number }) {
    const bank = (await loadBanks('npm')).all.find(({ name }) => name === 'nylon')!;
    const { out } = await twobar([
      ...[
        'make',
        '--kind',
        'chords',
        '--seed',
        '11',
        '--how',
        'progression',
        '--length',
        '4',
        '--tempo',
        '100',
      ],
    ]);
    const test = JSON.parse(out);
    const barSec = (4 * 60) / 100;
    const strums = test.chords.map(({ frets }: { frets: (number | null)[] }, i: number) => {
      const notes = frets.flatMap((fret, s) => (fret === null ? [] : [test.tuning[s] + fret]));
      const { notes: struck, lateSec } = change(notes, i);
      const atSec = START + i * barSec + lateSec;
      return { notes: struck, atSec, untilSec: START + (i + 1) * barSec - 0.05 };
    });
    const signal = playChords(bank, strums, { durationSec: START + 4 * barSec + 0.5, seed: 5 });
    const files = ['--test', put('chords.json', out), '--take', put('chords.wav', writeWav(signal, 44_100))];
    return { test, mark: ['mark', ...files, '--start', String(START)] };
  }

  it('is full for what was asked, and names a change that came late', async () => {
    const right = await played((notes) => ({ notes, lateSec: 0 }));
    const mark = JSON.parse((await twobar([...right.mark, '--json'])).out);
    expect(mark.verdicts.map((v: { kind: string }) => v.kind)).toEqual(['yes', 'yes', 'yes', 'yes']);
    expect(mark).toMatchObject({ type: 'chords', mark: 100, outcome: 'there' });
    for (const { errorMs } of mark.verdicts) expect(Math.abs(errorMs)).toBeLessThan(25);

    const late = await played((notes, i) => ({ notes, lateSec: i === 2 ? 0.2 : 0 }));
    const { advice, mark: points } = JSON.parse((await twobar([...late.mark, '--json'])).out);
    expect(points).toBeLessThan(100);
    expect(advice).toMatchObject({ code: 'change-late', values: { to: late.test.chords[2].symbol } });
    expect(Math.abs(advice.values.ms - 200)).toBeLessThan(25);
    expect((await twobar(late.mark)).out).toMatch(/mark \d+.*\n.*asked +chord/);
  });

  it('names a chord that was not the one asked for', async () => {
    const { mark } = await played((notes, i) => ({
      notes: i === 1 ? notes.map((n) => n + 1) : notes,
      lateSec: 0,
    }));
    const { verdicts, mark: points } = JSON.parse((await twobar([...mark, '--json'])).out);
    expect(verdicts.map((v: { kind: string }) => v.kind)).toEqual(['yes', 'no', 'yes', 'yes']);
    expect(verdicts[1].missing.length + verdicts[1].foreign.length).toBeGreaterThan(2);
    expect(points).toBeLessThan(90);
  });

  it('is none where nothing was struck, or where somebody talked', async () => {
    const { mark } = await played((notes) => ({ notes, lateSec: 0 }));
    const [, , test] = mark;
    const silence = put('silence.wav', writeWav(new Float32Array(44_100 * 8), 44_100));
    const talk = put('talk.wav', writeWav(babble(44_100 * 8, 44_100, makeRandom(3)), 44_100));
    for (const [take, reason] of [
      [silence, 'silence'],
      [talk, 'not-an-instrument'],
    ] as const) {
      const { out } = await twobar(['mark', '--test', test!, '--take', take, '--json']);
      expect(JSON.parse(out)).toMatchObject({ mark: null, reason, verdicts: [] });
    }
  });

  it('refuses a test that is none', async () => {
    const broken = put('broken.json', { version: 1, kind: 'chords', chords: [] });
    await refused(['mark', '--test', broken, '--take', path], /this is no test of chords: /);
  });
});
