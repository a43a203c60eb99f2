import { readFileSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readWav, testToMidi, testToMusicXml, writeWav } from '../../src/exchange/index.ts';
import type { HeardTake } from '../../src/music/notes.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import {
  hearingSheet,
  parseTest,
  performanceSheet,
  performedSec,
  wholeSheet,
} from '../../src/tests-engine/index.ts';
import { plain, plainRhythm } from '../tests-engine/procedure/some-tests.ts';
import { folder, plucked, put, twobar } from './support.ts';

/** Exit 2, nothing on standard output, one sentence without a stack trace. */
async function refused(args: readonly string[], message: RegExp, input = '') {
  const { exit, problem, out } = await twobar(args, input);
  expect({ exit, out }).toEqual({ exit: 2, out: '' });
  expect(problem).toMatch(message);
  expect(problem).toMatch(/^twobar: [^\n]+$/);
  expect(problem).not.toMatch(/\bat \S+:\d+/);
}

const made = async (...args: string[]): Promise<PracticeTest> =>
  parseTest(JSON.parse((await twobar(['make', ...args])).out));

describe('make', () => {
  it('prints a test that is read back, the same for the same seed', async () => {
    const args = ['make', '--kind', 'melody', '--level', '2', '--seed', '42'];
    const first = await twobar(args);
    expect(first.exit).toBe(0);
    expect(first.out).toBe((await twobar(args)).out);
    const test = parseTest(JSON.parse(first.out));
    expect(test).toMatchObject({ kind: 'melody', level: 2, seed: 42, instrument: 'guitar' });
  });
  it('makes for the bass', async () => {
    const test = await made('--kind', 'rhythm', '--level', '1', '--seed', '1', '--instrument', 'bass');
    expect(test.tuning[0]).toBe(28);
    expect(test.question).not.toBeNull();
  });
  it('--count gives consecutive seeds, one test a line', async () => {
    const { out } = await twobar([
      'make',
      '--kind',
      'rhythm',
      '--level',
      '1',
      '--seed',
      '5',
      '--count',
      '401',
    ]);
    const lines = out.trimEnd().split('\n');
    expect(lines).toHaveLength(401);
    expect(lines.map((line) => JSON.parse(line).seed)).toEqual(lines.map((_, i) => 5 + i));
    const last = await twobar(['make', '--kind', 'rhythm', '--level', '1', '--seed', '405']);
    expect(`${lines[400]!}\n`).toBe(last.out);
  });
  it.each([
    [
      ['--kind', 'song', '--level', '1', '--seed', '1'],
      /--kind must be melody or rhythm or reading or scale or improvising or chords, got "song"/,
    ],
    [['--kind', 'melody', '--level', '0', '--seed', '1'], /--level must be a number from 1/],
    [['--kind', 'melody', '--level', '1.5', '--seed', '1'], /--level must be a whole number, got "1.5"/],
    [
      ['--kind', 'melody', '--level', '1', '--seed', '-1'],
      /--seed must be a number from 0 to 4294967295, got "-1"/,
    ],
    [['--kind', 'melody', '--level', '1', '--seed', '0x10'], /--seed/],
    [['--kind', 'melody', '--level', '1', '--seed', 'NaN'], /--seed/],
    [['--kind', 'melody', '--level', '1'], /--seed is missing/],
    [['--kind', 'melody', '--level', '1', '--seed', '1', '--seed', '2'], /--seed is given 2 times/],
    [['--kind', 'melody', '--level', '1', '--seed', '1', '--colour', 'red'], /--colour.*known are --kind/],
    [['--kind', 'melody', '--level', '1', '--seed', '1', 'more'], /"more" is one word too many/],
    [['--kind', 'melody', '--level', '1', '--seed', '4294967295', '--count', '2'], /--count/],
  ])('%j is refused', (args, message) => refused(['make', ...args], message));
});

describe('make --format', () => {
  const one = ['make', '--kind', 'melody', '--level', '1', '--seed', '8'];
  it('gives the same test as MusicXML or MIDI', async () => {
    const test = parseTest(JSON.parse((await twobar(one)).out));
    expect((await twobar([...one, '--format', 'musicxml'])).out).toBe(testToMusicXml(test));
    const { out } = await twobar([...one, '--format', 'midi']);
    expect(out).toBe(`<${testToMidi(test).length} bytes>`);
  });
  it('of many tests at once is refused', async () => {
    await refused([...one, '--format', 'midi', '--count', '2'], /--format midi gives one test/);
    await refused([...one, '--format', 'pdf'], /json or musicxml or midi/);
  });
});

describe('sound', () => {
  it.each(['reading', 'scale'])('renders the notes of a %s, which has no backing', async (kind) => {
    const made = await twobar(['make', '--kind', kind, '--level', '4', '--seed', '5']);
    const path = put(`${kind}.json`, made.out);
    const out = join(folder, `${kind}.wav`);
    const { exit, rendered } = await twobar(['sound', path, '--out', out]);
    expect(exit).toBe(0);
    const task = JSON.parse(made.out) as { phrase: { notes: { midi: number }[] } };
    const sounded = rendered[0]!.sheet.cues.flatMap((cue) => (cue.type === 'note' ? [cue.midi] : []));
    expect(sounded).toEqual(task.phrase.notes.map(({ midi }) => midi));
    await refused(['sound', path, '--out', out, '--part', 'backing'], /has no backing/);
  });
  it('refuses chords, which have no notes of their own', async () => {
    const made = await twobar(['make', '--kind', 'chords', '--seed', '5']);
    await refused(
      ['sound', put('chords-to-sound.json', made.out), '--out', join(folder, 'c.wav')],
      /chords have no notes of their own/,
    );
  });
  it('writes the whole test as a WAV file', async () => {
    const path = put('plain.json', plain);
    const out = join(folder, 'plain.wav');
    const { exit } = await twobar(['sound', path, '--out', out]);
    expect(exit).toBe(0);
    const wav = readWav(readFileSync(out));
    expect(wav.channels[0]!.length / wav.sampleRate).toBeCloseTo(wholeSheet(plain).durationSec, 3);
  });
  it('writes phrase and backing on one clock, with the gain of the whole', async () => {
    const path = put('plain.json', plain);
    const out = join(folder, 'part.wav');
    const { rendered } = await twobar(['sound', path, '--out', out, '--part', 'phrase']);
    expect(rendered.map((r) => r.gainDb)).toEqual([undefined, undefined, -6]);
    expect(rendered[0]!.sheet).toEqual(hearingSheet(plain));
    expect(rendered[1]!.sheet).toEqual(performanceSheet(plain));
    expect(rendered[2]!.sheet.cues.every((c) => c.type === 'note' && c.role === 'phrase')).toBe(true);
    const backing = await twobar(['sound', path, '--out', out, '--part', 'backing']);
    const { sheet } = backing.rendered[2]!;
    expect(sheet.cues.some((c) => c.type === 'note' && c.role === 'phrase')).toBe(false);
    expect(sheet.durationSec).toBe(rendered[2]!.sheet.durationSec);
  });
  it('refuses what is no test, each with its own sentence', async () => {
    const out = ['--out', join(folder, 'never.wav')];
    await refused(['sound', join(folder, 'none.json'), ...out], /there is no such file/);
    await refused(['sound', folder, ...out], /it is a folder/);
    await refused(['sound', put('e.json', ''), ...out], /the file is empty/);
    await refused(['sound', put('h.json', '{"version": 1, '), ...out], /it is not JSON/);
    await refused(['sound', put('b.json', Uint8Array.of(0xff, 0xfe, 0)), ...out], /not UTF-8/);
    await refused(['sound', put('k.json', { ...plain, colour: 'red' }), ...out], /colour/);
    await refused(['sound', put('v.json', { ...plain, version: 2 }), ...out], /version 2/);
    await refused(
      ['sound', put('n.json', JSON.stringify(plain).replace('"tempoBpm":90', '"tempoBpm":null')), ...out],
      /tempoBpm/,
    );
    await refused(
      ['sound', put('nan.json', JSON.stringify(plain).replace('"tempoBpm":90', '"tempoBpm":NaN')), ...out],
      /not JSON/,
    );
    await refused(['sound', put('s.json', { ...plain, style: 'polka' }), ...out], /style/);
    await refused(['sound', put('plain.json', plain)], /--out is missing/);
    await refused(
      ['sound', put('plain.json', plain), '--out', join(folder, 'no', 'where.wav')],
      /no such folder/,
    );
  });
});

const scale = [52, 55, 57, 59].map((midi, i) => ({ atSec: 0.5 + i * 0.6, midi }));

describe('hear', () => {
  it('gives the notes as JSON with exactly the fields promised', async () => {
    const { exit, out } = await twobar(['hear', put('take.wav', plucked(scale, 3.5)), '--json']);
    expect(exit).toBe(0);
    const take = JSON.parse(out);
    expect(Object.keys(take).sort()).toEqual(['heard', 'notes', 'tuningCents']);
    expect(take.notes.map((n: { midi: number }) => n.midi)).toEqual([52, 55, 57, 59]);
    for (const note of take.notes)
      expect(Object.keys(note).sort()).toEqual([
        'cents',
        'confidence',
        'levelDb',
        'midi',
        'offsetSec',
        'onsetSec',
      ]);
    expect(take.heard).toEqual({ verdict: 'ok', reason: null });
  });
  it('gives a table without --json', async () => {
    const { out } = await twobar(['hear', put('take.wav', plucked(scale, 3.5)), '--instrument', 'guitar']);
    expect(out).toMatch(/onset s.*note.*MIDI/);
    expect(out).toMatch(/E3 +52/);
    expect(out).toMatch(/4 notes/);
  });
  it('leaves out what the tuning does not have, where one is given', async () => {
    const low = plucked(
      [{ midi: 38, atSec: 0.3 }, ...scale.map((p) => ({ ...p, atSec: p.atSec + 0.7 }))],
      4.2,
    );
    const path = put('low.wav', low);
    const midis = async (...tuning: string[]): Promise<number[]> => {
      const { out } = await twobar(['hear', path, '--json', ...tuning]);
      return (JSON.parse(out) as HeardTake).notes.map(({ midi }) => midi);
    };
    expect(await midis('--tuning', 'guitar-drop-d')).toContain(38);
    expect(await midis('--tuning', '38,45,50,55,59,64')).toContain(38);
    expect(await midis()).toContain(38);
    expect(await midis('--tuning', 'guitar')).not.toContain(38);
    await refused(['hear', path, '--tuning', 'banjo'], /--tuning is guitar, .*"any".*not "banjo"/);
  });
  it('refuses what is no recording', async () => {
    const good = plucked(scale.slice(0, 1), 1);
    await refused(['hear', put('empty.wav', '')], /is empty/);
    await refused(['hear', put('text.wav', 'hello, this is not a recording')], /not a WAV/);
    await refused(['hear', put('cut.wav', good.slice(0, 5000))], /cut short/);
    await refused(['hear', '/dev/zero'], /it is not a file/);
    // Read block by block it may be as large as it likes, if only its sound is not too long.
    const enormous = put('enormous.wav', good);
    truncateSync(enormous, 2 ** 31);
    const { exit, out } = await twobar(['hear', enormous]);
    expect({ exit, out }).toEqual({ exit: 0, out: (await twobar(['hear', put('good.wav', good)])).out });
    new DataView(good.buffer).setUint32(40, 0xffff_ffff, true);
    const endless = put('endless.wav', good);
    truncateSync(endless, 2 ** 31);
    await refused(['hear', endless], /lasts 406 minutes; at most 60 are read/);
    await refused(['hear', put('take.wav', good), '--instrument', 'lute'], /guitar or bass/);
  });
});

describe('hear --backing', () => {
  // Noise as the backing, heard 50 ms late and 15 dB over four notes that begin after 3 s.
  const rate = 44_100;
  let seed = 1;
  const noise = Float32Array.from({ length: rate * 6 }, () => {
    seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
    return (seed / 2 ** 32 - 0.5) * 0.2;
  });
  const late = scale.map((n) => ({ ...n, atSec: n.atSec + 3 }));
  const [clean] = readWav(plucked(late, 6)).channels;
  const rms = (x: Float32Array) => Math.sqrt(x.reduce((sum, v) => sum + v * v, 0) / x.length);
  const loud = (10 ** (15 / 20) * rms(clean!.subarray(3 * rate))) / rms(noise);
  const mixed = clean!.map((x, i) => 0.3 * (x + loud * (noise[i - Math.round(0.05 * rate)] ?? 0)));
  it('finds delay and notes, and says what was taken out', async () => {
    const take = put('mixed.wav', writeWav(mixed, rate));
    const backing = put('backing.wav', writeWav(noise, rate));
    const { out } = await twobar(['hear', take, '--backing', backing, '--from', '3', '--json']);
    const { notes, heard } = JSON.parse(out);
    expect(notes.map((n: { midi: number }) => n.midi)).toEqual([52, 55, 57, 59]);
    expect(Object.keys(heard).sort()).toEqual(['cancellationDb', 'delayMs', 'driftPpm', 'reason', 'verdict']);
    expect(heard.delayMs).toBeCloseTo(50, 0);
    // What is left holds the guitar, 15 dB under the backing: at most so much can be taken out.
    expect(heard.cancellationDb).toBeGreaterThan(10);
    expect(heard.cancellationDb).toBeLessThan(16);
    const other = put(
      'backing48.wav',
      writeWav(
        noise.filter((_, i) => i % 2 === 0),
        rate / 2,
      ),
    );
    expect((await twobar(['hear', take, '--backing', other, '--from', '3'])).out).toMatch(/backing: delay/);
  });
  it('refuses a start outside the recording, and --from alone', async () => {
    const take = put('mixed.wav', writeWav(mixed, rate));
    await refused(
      ['hear', take, '--backing', take, '--from', '60'],
      /lasts 6.00 s; the take cannot start at 60 s/,
    );
    await refused(['hear', take, '--from', '1'], /--from goes with --backing/);
  });
});

describe('mark', () => {
  const played = plain.phrase.notes.map((n) => ({
    atSec: 1 + performedSec(n.startTicks, plain),
    midi: n.midi as number,
  }));
  const test = () => put('plain.json', plain);
  it('marks a recording against a test, --start being beat 1 of bar 1', async () => {
    const take = put('played.wav', plucked(played, 8));
    const { out } = await twobar(['mark', '--test', test(), '--take', take, '--start', '1', '--json']);
    expect(JSON.parse(out).mark).toBeGreaterThanOrEqual(95);
    const shifted = await twobar(['mark', '--test', test(), '--take', take, '--start', '-0.25', '--json']);
    expect(JSON.parse(shifted.out).mark).toBeLessThan(95);
  });
  it('leaves out what was tried in the count-in, as the app does', async () => {
    const tried = [0.1, 0.45].map((atSec) => ({ atSec, midi: 57 }));
    const take = put('tried.wav', plucked([...tried, ...played], 8));
    const { out } = await twobar(['mark', '--test', test(), '--take', take, '--start', '1', '--json']);
    expect(JSON.parse(out).mark).toBeGreaterThanOrEqual(95);
  });
  it('takes what is in time with the backing that is heard for on time, and no longer without it', async () => {
    const rate = 44_100;
    let seed = 7;
    const noise = Float32Array.from({ length: rate * 12 }, () => {
      seed = (Math.imul(seed, 1_103_515_245) + 12_345) >>> 0;
      return (seed / 2 ** 32 - 0.5) * 0.2;
    });
    const late = played.map((n) => ({ ...n, atSec: n.atSec + 3.12 }));
    const [clean] = readWav(plucked(late, 12)).channels;
    const mixed = clean!.map((x, i) => x + 0.5 * (noise[i - Math.round(0.12 * rate)] ?? 0));
    const take = put('over.wav', writeWav(mixed, rate));
    const args = ['mark', '--test', test(), '--take', take, '--start', '4', '--json'];
    const backing = put('sent.wav', writeWav(noise, rate));
    const { timing, mark } = JSON.parse((await twobar([...args, '--backing', backing])).out);
    expect(Math.abs(timing.biasMs)).toBeLessThan(10);
    expect(mark).toBeGreaterThanOrEqual(95);
    const alone = JSON.parse(
      (
        await twobar([
          'mark',
          '--test',
          test(),
          '--take',
          put('late.wav', plucked(late, 12)),
          '--start',
          '4',
          '--json',
        ])
      ).out,
    );
    expect(alone.timing.biasMs).toBeGreaterThan(100);
    await refused([...args, '--from', '1'], /--from goes with --backing/);
  });
  it('makes a page to read and marks it, on the click’s clock and, without one, wherever it begins', async () => {
    const made = JSON.parse((await twobar(['make', '--kind', 'reading', '--level', '1', '--seed', '4'])).out);
    const notesOf = (fromSec: number, rate: number) =>
      made.phrase.notes.map((n: { startTicks: number; midi: number }) => ({
        atSec: fromSec + rate * performedSec(n.startTicks, made),
        midi: n.midi,
      }));
    const length = 8 + 1.2 * performedSec(made.phrase.bars * 4 * 480, made);
    const page = put('page.json', made);
    const clicked = put('clicked.wav', plucked(notesOf(1, 1), length));
    const withClick = await twobar(['mark', '--test', page, '--take', clicked, '--start', '1', '--json']);
    expect(JSON.parse(withClick.out).mark).toBeGreaterThanOrEqual(95);
    const free = put('free.json', { ...made, procedure: { ...made.procedure, click: false } });
    const slow = put('slow.wav', plucked(notesOf(4, 1.15), length));
    const without = await twobar(['mark', '--test', free, '--take', slow, '--json']);
    expect(JSON.parse(without.out).mark).toBeGreaterThanOrEqual(95);
    await refused(
      [
        'mark',
        '--test',
        put('bad.json', { ...made, signs: [{ kind: 'accent', note: 300 }] }),
        '--take',
        slow,
      ],
      /signs\[0\] stands at a note that is not there/,
    );
  });
  it('makes a scale and marks it without a click, saying where the hands wait', async () => {
    const args = ['make', '--kind', 'scale', '--level', '4', '--seed', '2'];
    const made = JSON.parse((await twobar([...args, '--free'])).out);
    expect(made).toMatchObject({ kind: 'scale', level: 4, procedure: { click: false } });
    const late = made.phrase.notes.findIndex(
      (n: { string: number }, i: number, all: { string: number }[]) =>
        i > 5 && n.string !== all[i - 1]!.string,
    );
    const notes = made.phrase.notes.map((n: { startTicks: number; midi: number }, i: number) => ({
      atSec: 2 + performedSec(n.startTicks, made) + (i >= late ? 0.12 : 0),
      midi: n.midi,
    }));
    const length = 5 + performedSec(made.phrase.bars * 4 * 480, made);
    const take = put('scale.wav', plucked(notes, length));
    const mark = JSON.parse(
      (await twobar(['mark', '--test', put('scale.json', made), '--take', take, '--json'])).out,
    );
    expect(mark.mark).toBeGreaterThanOrEqual(95);
    expect(mark.advice).toMatchObject({ code: 'wait-crossing', values: { note: late + 1 } });
    const xml = (await twobar([...args, '--format', 'musicxml'])).out;
    expect(xml).toContain(`<work-title>${made.named.tonic} ${made.named.kind}</work-title>`);
    expect(xml.match(/<fret>/g)).toHaveLength(made.phrase.notes.length);
    await refused([...args, '--format', 'midi', '--count', '2'], /--format midi gives one test/);
    await refused(
      ['make', '--kind', 'melody', '--level', '1', '--seed', '1', '--free'],
      /--free goes with --kind reading, scale or improvising/,
    );
  });
  it('does not mark silence, and says why', async () => {
    const take = put('silence.wav', plucked([], 4));
    const { exit, out } = await twobar(['mark', '--test', test(), '--take', take, '--json']);
    expect(exit).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ mark: null, reason: 'silence' });
  });
  it('marks note lists, with own tempo and transposition where allowed', async () => {
    const target = put(
      'target.json',
      [0, 0.5, 1, 1.5, 2].map((t, i) => ({ onsetSec: t, midi: 60 + i })),
    );
    const slow = put(
      'slow.json',
      [3, 3.6, 4.2, 4.8, 5.4].map((t, i) => ({ onsetSec: t, midi: 72 + i })),
    );
    const lists = ['mark', '--target', target, '--played', slow, '--json'];
    const free = await twobar([...lists, '--clock', 'free', '--transposition', 'octave']);
    expect(JSON.parse(free.out).mark).toBeGreaterThanOrEqual(99);
    const strict = await twobar(lists);
    expect(JSON.parse(strict.out).mark).toBeLessThan(60);
    const table = await twobar(lists.slice(0, -1));
    expect(table.out).toMatch(/mark \d+/);
    expect(table.out).toMatch(/target +played +verdict/);
  });
  it('--pairs reads one pair a line and writes one mark a line', async () => {
    const lines = [
      { id: 'a', target: [0, 1, 2, 3], played: [5, 6, 7, 8], clock: 'free' },
      { id: 7, target: [0, 1, 2, 3], played: [] },
      { id: 'c', target: [0, 1, 2, 3], played: [0, 1, 2, 3] },
    ];
    const { exit, out } = await twobar(
      ['mark', '--pairs', '-'],
      `${lines.map((l) => JSON.stringify(l)).join('\n')}\n`,
    );
    expect(exit).toBe(0);
    const marks = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(marks.map((m) => m.id)).toEqual(['a', 7, 'c']);
    expect(marks[0].mark).toBeGreaterThanOrEqual(99);
    expect(marks[1].mark ?? 0).toBe(0);
    expect(marks[2].mark).toBe(100);
  });
  it('refuses lists, lines and options that make no sense', async () => {
    const good = put('good.json', [0, 1, 2]);
    await refused(['mark'], /give one of/);
    await refused(['mark', '--target', good, '--test', good], /give one of/);
    await refused(['mark', '--target', good], /--played is missing/);
    await refused(['mark', '--target', good, '--played', put('x.json', '[0, "one"]')], /played\[1\]/);
    await refused(['mark', '--target', good, '--played', put('y.json', '[0, null]')], /played\[1\]/);
    await refused(
      ['mark', '--target', good, '--played', put('z.json', '[{"onsetSec": 1, "pitch": 4}]')],
      /pitch/,
    );
    await refused(['mark', '--target', good, '--played', good, '--clock', 'wall'], /backing or free/);
    await refused(
      ['mark', '--target', good, '--played', good, '--start', '1'],
      /--start does not go with --target/,
    );
    await refused(['mark', '--pairs', 'file.jsonl'], /standard input only/);
    await refused(['mark', '--pairs', '-'], /line 1: /, '{"id": 1, "target": [0]}');
    await refused(['mark', '--pairs', '-'], /line 2: a pair must be one JSON object/, '\nnot json');
    await refused(['mark', '--test', put('plain.json', plainRhythm), '--take', good], /not a WAV/);
  });
});

describe('whatever else', () => {
  it('names the commands there are', async () => {
    await refused([], /a command is missing; there are make, sound, hear, mark/);
    await refused(['toString'], /"toString" is no command/);
    expect((await twobar(['--help'])).out).toMatch(/twobar make --kind/);
  });
});
