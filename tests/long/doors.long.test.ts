import { deflateSync, strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, describe, expect, it } from 'vitest';
import { run as runCli } from '../../src/cli/run.ts';
import { linesOf } from '../../src/cli/lines.ts';
import {
  ExchangeError,
  fromListCode,
  listCode,
  readTable,
  readWav,
  TableError,
  testFromMidi,
  testFromMusicXml,
  testFromWholeCode,
  testToMidi,
  testToMusicXml,
  wholeCode,
  writeWav,
} from '../../src/exchange/index.ts';
import { checkTask, checkTest } from '../../src/music/schema/index.ts';
import type { Phrase, PracticeTest } from '../../src/music/score.ts';
import type { Task } from '../../src/music/task.ts';
import { pack, unpack } from '../../src/store/backup/container.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { readHomework } from '../../src/store/homework/homework.ts';
import { packResults, unpackResults } from '../../src/store/homework/resultsFile.ts';
import { ImportProblem } from '../../src/store/problem.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import {
  parseChordTest,
  parseImprovising,
  parseNoteList,
  parsePairLine,
  parseReading,
  parseScale,
  parseTest,
  ShortCodeError,
  shortCode,
  TestFormatError,
  testFromCode,
} from '../../src/tests-engine/index.ts';
import { rehashed } from '../support/container.ts';
import { codeOf } from '../support/hostile.ts';
import { damageBytes, ID, sampleBackup, withBlocks, type Json } from '../store/support/backup.ts';
import { die } from '../store/support/sample.ts';
import { mutated, mutatedText } from './mutate.ts';
import { ATTEMPTS, EAR_TESTS, KEPT, OTHERS, variedBackup } from './samples.ts';
import { showAttempt, showKept, showRecords, showTask } from './shown.ts';

/**
 * Twenty thousand files, links and texts at all doors: bytes and structure, checksums kept right where there are any.
 * Each is refused in its door's own words, or accepted; what is accepted is put through the code of every page that
 * shows it, and held against rules that are written here once more, beside the schemas.
 */
const SCALE = Number(process.env['TWOBAR_FUZZ'] ?? 1);
const options = {
  kind: 'melody',
  instrument: 'guitar',
  tuning: [40, 45, 50, 55, 59, 64],
  style: 'rock',
} as const;

/** Refusals that a door may give; anything else that is thrown is a crash. */
const REFUSALS = [ExchangeError, ImportProblem, TestFormatError, ShortCodeError, TableError];
/** A refusal reads like a sentence for its owner, or is a code with words in the catalogue. */
const isRefusal = (error: unknown): boolean => REFUSALS.some((kind) => error instanceof kind);

/** These readers refuse by any error; the command line says its message as it is. What reads like a fault stays one. */
function inWords<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    const { message } = error as Error;
    if (/call stack|Cannot read|not a function|is not iterable|of undefined/.test(message)) throw error;
    throw new TestFormatError('test-unread', { wrong: message });
  }
}

interface Measured {
  readonly name: string;
  readonly ms: number;
  readonly mb: number;
}
const measured: Measured[] = [];
const counts = new Map<string, { tried: number; accepted: number }>();

/** The rules of written music, a second time: what sounds must be what is written, one note after another, in the bars. */
function saneNotes({ metre, bars, notes }: Phrase, tuning: readonly number[], least = 1): string | null {
  let free = 0;
  for (const note of notes) {
    if (note.startTicks < free) return 'notes overlap';
    free = note.startTicks + note.durationTicks;
    if (note.midi !== tuning[tuning.length - note.string]! + note.fret) return 'a string sounds another note';
    if (note.durationTicks <= 0) return 'a note without length';
  }
  if (free > ((metre.beats * 4 * 480) / metre.beatUnit) * bars) return 'a note beyond the last bar';
  return notes.length < least ? 'no notes' : null;
}
/** What no test may be, of whatever kind. */
function sane(task: Task): string | null {
  if (task.tempoBpm < 7.5 || task.tempoBpm > 360) return 'a tempo nobody plays';
  if ('chords' in task) {
    const unheld = task.chords.some(({ frets }) => frets && frets.length > task.tuning.length);
    if (unheld) return 'a shape of more strings than there are';
    return task.chords.length === 0 ? 'no chords' : null;
  }
  if ('question' in task) {
    const { hearings } = task.procedure;
    if (hearings < 1 || hearings > 10) return 'no hearing, or hearings without end';
    const other = task.question && saneNotes(task.question.other, task.tuning);
    if (other) return other;
  }
  if ('signs' in task && task.signs.some((sign) => 'note' in sign && sign.note >= task.phrase.notes.length))
    return 'a sign at a note that is not there';
  return saneNotes(task.phrase, task.tuning, 'chart' in task ? 0 : 1);
}

type Case = { readonly read: () => unknown; readonly show?: (accepted: never) => void };

/** Tries a door so many times. @returns what went wrong, in words; nothing when nothing did */
async function batter(
  door: string,
  times: number,
  make: (i: number) => Case | Promise<Case>,
): Promise<string[]> {
  const wrong: string[] = [];
  const count = { tried: 0, accepted: 0 };
  counts.set(door, count);
  for (let i = 0; i < times * SCALE; i++) {
    const { read, show } = await make(i);
    count.tried++;
    const before = process.memoryUsage().rss;
    const from = performance.now();
    try {
      const accepted = (await read()) as never;
      if (accepted === null || accepted === undefined) continue;
      count.accepted++;
      try {
        show?.(accepted);
      } catch (error) {
        wrong.push(`${door} ${i}: accepted, then ${String((error as Error).stack).slice(0, 400)}`);
      }
    } catch (error) {
      if (!isRefusal(error)) wrong.push(`${door} ${i}: ${String((error as Error).stack).slice(0, 400)}`);
      else if (error instanceof ExchangeError && !/^[A-Z].*\.$/.test(error.message))
        wrong.push(`${door} ${i}: no sentence: ${error.message}`);
    } finally {
      const ms = performance.now() - from;
      measured.push({ name: `${door} ${i}`, ms, mb: (process.memoryUsage().rss - before) / 2 ** 20 });
    }
  }
  return wrong;
}

const testAt = (i: number): PracticeTest => EAR_TESTS[i % EAR_TESTS.length]!;
const otherAt = (i: number): Task => OTHERS[i % OTHERS.length]!;
const shownAfterCheck = (task: Task): void => {
  const problem = sane(task);
  if (problem) throw new Error(`WRONGLY ACCEPTED: ${problem}`);
  showTask(task);
};
/** A door that takes any task: what is none, or of a later kind, it refuses. */
function taskFrom(code: string): Task {
  const checked = checkTask(testFromWholeCode(code));
  if ('task' in checked) return checked.task;
  throw new TestFormatError('test-unread', { wrong: checked.wrong });
}
/** The packed lists of a code, and back, the checksum right. */
const insideOf = (test: PracticeTest): unknown => JSON.parse(packedOf(test));
const packedOf = (test: PracticeTest): string => {
  // What a list's code holds is the same lists as a test's: taken out of one made without dictionary.
  return JSON.stringify(lists(test));
};
function lists(test: PracticeTest): unknown {
  const phrase = ({ metre, bars, notes }: PracticeTest['phrase']) => {
    let end = 0;
    return [
      ...[metre.beats, metre.beatUnit, metre.grouping, bars],
      notes.map((note) => {
        const before = note.startTicks - end;
        end = note.startTicks + note.durationTicks;
        return [before, note.durationTicks, note.string, note.fret, note.spelling];
      }),
    ];
  };
  return [
    ...[test.kind, test.instrument, test.tuning, test.level, test.seed, test.tempoBpm],
    ...[test.key.tonic, test.key.scale, test.swing, test.style, phrase(test.phrase)],
    test.question ? [phrase(test.question.other), test.question.answer] : null,
    ...[test.procedure.hearings, test.procedure.practiceSec],
    ...(test.backing
      ? [[test.backing.arranger, ...test.backing.chords.flatMap((c) => [c.durationTicks, c.symbol])]]
      : []),
  ];
}

const asText = (json: unknown): unknown => JSON.parse(JSON.stringify(json));

describe('20,000 strangers at the doors', () => {
  it('links: their signs, and what is in them under a right checksum', { timeout: 600_000 }, async () => {
    const roll = die(101);
    expect(testFromWholeCode(codeOf(strToU8(packedOf(testAt(5))), '2'))).toEqual(testAt(5));
    const signs = await batter('link, signs', 1500, (i) => {
      const code = wholeCode(testAt(i));
      const wild = mutatedText(code, ['A', '-', '_', '2', code.slice(5, 25)], roll);
      return {
        read: () => parseTest(testFromWholeCode(wild)),
        show: (test: PracticeTest) => {
          // A checksum of 32 bits lets one in four billion through: any other test is a wrong one.
          if (JSON.stringify(test) !== JSON.stringify(testAt(i)))
            throw new Error('WRONGLY ACCEPTED: another test');
        },
      };
    });
    const inside = await batter('link, structure', 3500, (i) => {
      const code = codeOf(
        strToU8(JSON.stringify(mutated(insideOf(testAt(i)), roll))),
        testAt(i).backing ? '2' : '1',
      );
      return { read: () => parseTest(testFromWholeCode(code)), show: shownAfterCheck };
    });
    const short = await batter('short code', 1000, (i) => {
      const code = shortCode(testAt(i)) ?? '1M3-00000KF-W';
      return {
        read: () => testFromCode(mutatedText(code, ['0', 'Z', '-', 'M', '9'], roll)),
        show: shownAfterCheck,
      };
    });
    // Chords, scales, charts and pages to read travel as they are.
    const others = await batter('link of another task, structure', 2000, (i) => {
      const code = codeOf(strToU8(JSON.stringify(mutated(asText(otherAt(i)), roll))), '5');
      return { read: () => taskFrom(code), show: shownAfterCheck };
    });
    expect([...signs, ...inside, ...short, ...others]).toEqual([]);
  });

  it('homework and results, by link and by file', { timeout: 600_000 }, async () => {
    const roll = die(102);
    const about = {
      homeworkId: ID(7),
      manner: 'strict',
      thresholds: { there: 85, close: 60 },
      text: 'slowly',
    };
    const lists3 = await batter('homework, structure', 2500, (i) => {
      const json = [about, [testAt(i), testAt(i + 1)].map(lists)];
      const code = codeOf(strToU8(JSON.stringify(mutated(json, roll))), '3');
      return {
        read: () => readHomework(code),
        show: ({ tests }: { tests: readonly Task[] }) => tests.forEach(shownAfterCheck),
      };
    });
    const mixed = await batter('homework of any tasks, structure', 1000, (i) => {
      const json = [about, [lists(testAt(i)), asText(otherAt(i)), asText(otherAt(i + 7))]];
      const code = codeOf(strToU8(JSON.stringify(mutated(json, roll))), '4');
      return {
        read: () => readHomework(code),
        show: ({ tests }: { tests: readonly Task[] }) => tests.forEach(shownAfterCheck),
      };
    });
    const signs = await batter('homework, signs', 500, (i) => ({
      read: () => readHomework(mutatedText(listCode(about, [testAt(i)]), ['A', '3', '4'], roll)),
      show: ({ tests }: { tests: readonly PracticeTest[] }) =>
        expect(JSON.stringify(tests)).toBe(JSON.stringify([testAt(i)])),
    }));
    const before = await batter('homework of before, structure', 500, async (i) => {
      const json = { version: 2, ...about, text: undefined, codes: [wholeCode(testAt(i))] };
      const file = await pack('homework', mutated(JSON.parse(JSON.stringify(json)), roll));
      return {
        read: () => readHomework(Buffer.from(file).toString('base64url')),
        show: ({ tests }: { tests: readonly Task[] }) => tests.forEach(shownAfterCheck),
      };
    });
    const attempts = ATTEMPTS.map((attempt) => ({ ...attempt, studentId: ID(0), homeworkId: ID(7) }));
    const results = await batter('results, structure', 2500, async (i) => {
      const json = JSON.parse(
        JSON.stringify({
          schema: SCHEMA_VERSION,
          homeworkId: ID(7),
          attempts: [attempts[i % attempts.length]],
        }),
      ) as object;
      const file = await pack('results', mutated(json, roll));
      return {
        read: () => unpackResults(file),
        show: (got: { attempts: readonly never[] }) => got.attempts.forEach((one) => showAttempt(one)),
      };
    });
    const bytes = await batter('results, bytes', 700, async (i) => {
      const file = damageBytes(await packResults(ID(7), [attempts[i % attempts.length]!]), roll);
      return { read: () => unpackResults(file.length > 48 ? rehashed(file) : file) };
    });
    expect([...lists3, ...mixed, ...signs, ...before, ...results, ...bytes]).toEqual([]);
  });

  it('backups: bytes and structure, in JSON and in packed blocks', { timeout: 600_000 }, async () => {
    const roll = die(103);
    const whole = sampleBackup(3);
    const blocks = await withBlocks(whole, [1]);
    const show = ({ records }: Awaited<ReturnType<typeof unpackBackup>>) => showRecords(records);
    const structure = await batter('backup, structure', 1500, async () => {
      const file = await pack('backup', mutated(blocks.json, roll), blocks.attachments);
      return { read: () => unpackBackup(file), show };
    });
    const varied = await batter('backup of every kind of task, structure', 1500, async (i) => {
      const { json, attachments } = variedBackup(i);
      const file = await pack('backup', mutated(json, roll), attachments);
      return { read: () => unpackBackup(file), show };
    });
    const keys = Object.keys(KEPT);
    const kept = await batter('what the app keeps for itself', 1000, (i) => {
      const key = keys[i % keys.length]!;
      const value = mutated(KEPT[key], roll) as Json;
      return { read: () => ({ key, value }), show: () => showKept(key, value) };
    });
    const bytes = await batter('backup, bytes', 800, async () => {
      const file = damageBytes(await pack('backup', blocks.json, blocks.attachments), roll);
      return { read: () => unpackBackup(file.length > 48 ? rehashed(file) : file), show };
    });
    expect([...structure, ...varied, ...kept, ...bytes]).toEqual([]);
    expect((await unpack(await pack('backup', 1))).json).toBe(1);
  });

  it('MusicXML, MIDI and tables of other programs', { timeout: 600_000 }, async () => {
    const roll = die(104);
    const words = [
      '<note>',
      '</note>',
      '<chord/>',
      '<rest/>',
      '<duration>-1</duration>',
      '&amp;',
      '&x;',
      '<![CDATA[',
      ']]>',
      '<!--',
      '<part id="P9">',
      '<backup><duration>9</duration></backup>',
      '<time><beats>99</beats><beat-type>64</beat-type></time>',
      '<divisions>0</divisions>',
      ' a="1"',
      '1e9',
      'NaN',
    ];
    const xml = await batter('MusicXML, text', 1700, (i) => {
      const bytes = strToU8(mutatedText(testToMusicXml(testAt(i)), words, roll));
      return { read: () => testFromMusicXml(bytes, options), show: shownAfterCheck };
    });
    const mxl = await batter('MusicXML, packed bytes', 500, (i) => {
      const zip = zipSync({
        'META-INF/container.xml': strToU8('<container><rootfile full-path="a.xml"/></container>'),
        'a.xml': strToU8(testToMusicXml(testAt(i))),
      });
      const bytes = damageBytes(zip as Uint8Array<ArrayBuffer>, roll);
      return { read: () => testFromMusicXml(bytes, options), show: shownAfterCheck };
    });
    const midi = await batter('MIDI, bytes', 1500, (i) => {
      let bytes = testToMidi(testAt(i)) as Uint8Array<ArrayBuffer>;
      for (let n = 1 + roll(3); n > 0; n--) bytes = damageBytes(bytes, roll);
      return { read: () => testFromMidi(bytes, options), show: shownAfterCheck };
    });
    const tables = await batter('tables', 500, () => {
      const text = mutatedText(
        'name;tempo;list\n"A ""minor""";72;1\nC;80;2\n',
        ['"', ';', '\r\n', ',', '\t', '\0'],
        roll,
      );
      return { read: () => readTable(text) };
    });
    expect([...xml, ...mxl, ...midi, ...tables]).toEqual([]);
    expect(Object.keys(unzipSync(zipSync({ a: deflateSync(new Uint8Array(9)) })))).toEqual(['a']);
  });

  it('the command line: tests, lists, pairs and recordings', { timeout: 600_000 }, async () => {
    const roll = die(105);
    const tests = await batter('test file', 1000, (i) => ({
      read: () => parseTest(mutated(asText(testAt(i)), roll)),
      show: shownAfterCheck,
    }));
    const readers = {
      reading: parseReading,
      scale: parseScale,
      improvising: parseImprovising,
      chords: parseChordTest,
    };
    const pages = await batter('file of another task', 1200, (i) => {
      const task = otherAt(i);
      const read = readers[task.kind as keyof typeof readers] as (json: unknown) => Task;
      return { read: () => inWords(() => read(mutated(asText(task), roll))), show: shownAfterCheck };
    });
    const list = [
      { onsetSec: 0, midi: 57, durationSec: 0.5 },
      { onsetSec: 1, midi: 60 },
    ];
    const lists2 = await batter('note list', 300, () => ({
      read: () => inWords(() => parseNoteList(mutated(asText(list), roll), 'target')),
    }));
    const pairs = await batter('pair line', 300, () => ({
      read: () =>
        inWords(() =>
          parsePairLine(
            mutatedText(
              '{"id":"a","target":[0,1],"played":[0,1.01],"clock":"free"}',
              ['[', '1e999', '"', 'null'],
              roll,
            ),
          ),
        ),
    }));
    const wav = await batter('WAV, bytes', 500, () => {
      const bytes = damageBytes(
        writeWav(new Float32Array(400).fill(0.1), 8000) as Uint8Array<ArrayBuffer>,
        roll,
      );
      return {
        read: () => readWav(bytes),
        show: ({ channels }: { channels: readonly Float32Array[] }) => {
          if (channels.some(({ length }) => length > bytes.length))
            throw new Error('more samples than bytes');
        },
      };
    });
    const commands = [
      'make',
      'sound',
      'hear',
      'mark',
      '--kind',
      'melody',
      '--level',
      '3',
      '--seed',
      '1',
      '--count',
      '2',
      '--pairs',
      '-',
      '--json',
      '--start',
      '-1',
      '/nowhere.wav',
      '--test',
      '--take',
      '',
      '\x1b[2J',
    ];
    const words = await batter('command line', 400, () => ({
      read: async () => {
        const args = Array.from({ length: roll(8) }, () => commands[roll(commands.length)]!);
        const io = {
          out: () => undefined,
          inputLines: () => linesOf((async function* () {})()),
          render: () => Promise.resolve([]),
        };
        const { exit, problem } = await runCli(args, io);

        if (exit === 2 && !/^twobar: [^\n\x1b]+$/.test(problem ?? ''))
          throw new Error(`no sentence: ${problem}`);
        return null;
      },
    }));
    expect([...tests, ...pages, ...lists2, ...pairs, ...wav, ...words]).toEqual([]);
    expect('test' in checkTest(asText(testAt(2)))).toBe(true);
    expect(fromListCode(listCode(1, [testAt(2)])).tests).toEqual([testAt(2)]);
  });

  afterAll(() => {
    const tried = [...counts.values()].reduce((sum, one) => sum + one.tried, 0);
    const lines = [...counts].map(([door, { tried, accepted }]) => `${door}: ${tried}, accepted ${accepted}`);
    const worst = (by: 'ms' | 'mb') =>
      [...measured]
        .sort((a, b) => b[by] - a[by])
        .slice(0, 10)
        .map(({ name, ms, mb }) => `  ${name}: ${ms.toFixed(0)} ms, ${mb.toFixed(1)} MB`);
    process.stdout.write(
      [`${tried} tried`, ...lines, 'slowest:', ...worst('ms'), 'largest:', ...worst('mb'), ''].join('\n'),
    );
    if (SCALE >= 1) expect(tried).toBeGreaterThanOrEqual(20_000);
  });
});
