import { strToU8 } from 'fflate';
import { testFromMusicXml, testFromWholeCode, testToMusicXml, wholeCode } from '../../src/exchange/index.ts';
import { checkTask } from '../../src/music/schema/index.ts';
import { earTest } from '../../src/tests-engine/index.ts';
import { pack } from '../../src/store/backup/container.ts';
import { packRecords, unpackBackup } from '../../src/store/backup/file.ts';
import { toBase64Url } from '../../src/exchange/index.ts';
import { readHomework } from '../../src/store/homework/homework.ts';
import { unpackResults } from '../../src/store/homework/resultsFile.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import type { Attempt, Records } from '../../src/store/index.ts';
import { codeOf } from '../support/hostile.ts';
import { ID, type Json } from '../store/support/backup.ts';
import { die } from '../store/support/sample.ts';
import { mutated, mutatedText } from './mutate.ts';
import { ATTEMPTS, EAR_TESTS, KEPT, OTHERS, variedBackup } from './samples.ts';

/** Changed things that a door lets in, each another one: what the pages of the built app are then shown. */
type Die = (n: number) => number;

/** Tries until so many are accepted. @param make one changed thing, or a throw where the door refuses it */
async function gathered<T>(count: number, make: (i: number) => Promise<T> | T): Promise<T[]> {
  const found: T[] = [];
  for (let i = 0; found.length < count && i < 200 * count; i++)
    try {
      found.push(await make(i));
    } catch {
      // Refused: the other fuzz looks at how.
    }
  return found;
}
const plain = <T>(value: unknown): T => JSON.parse(JSON.stringify(value)) as T;

/** The same records under ids that no other has, so that many fit into one record. */
function apart(records: Records, k: number): Records {
  const prefix = (0x1000 + k).toString(16);
  return JSON.parse(JSON.stringify(records).replace(/"0000([0-9a-f]{28})"/g, `"${prefix}$1"`)) as Records;
}

/** One backup of many accepted ones: a student each, with tests of every kind. */
export async function acceptedBackup(count: number, roll: Die = die(201)) {
  const many = await gathered(count, async (i) => {
    const { json, attachments } = variedBackup(i);
    const { records } = await unpackBackup(await pack('backup', mutated(json, roll), attachments));
    return apart({ ...records, settings: [] }, i);
  });
  // An id that was changed into another's is of one file alone: it would be a conflict here.
  const seen = new Set<string>();
  const own = many.filter(({ students, attempts }) => {
    const ids = [...students, ...attempts].map(({ id }) => id);
    return ids.every((id) => !seen.has(id) && Boolean(seen.add(id)));
  });
  const all = Object.fromEntries(
    (Object.keys(own[0]!) as (keyof Records)[]).map((table) => [
      table,
      own.flatMap((one) => [...one[table]]),
    ]),
  ) as unknown as Records;
  return { records: all, file: await packRecords(all) };
}

/** Homework links: lists of ear tests, and of tasks of every kind. */
export const acceptedHomework = (count: number, roll: Die = die(202)): Promise<string[]> =>
  gathered(count, async (i) => {
    const thresholds = { there: 85, close: 60 };
    const about = { homeworkId: ID(0x700 + i), manner: 'strict', thresholds, text: 'slowly' };
    const tests = [0, 11, 22].map((k) => plain<Json>(OTHERS[(i + k) % OTHERS.length]));
    const code = codeOf(strToU8(JSON.stringify(mutated([about, tests], roll))), '4');
    await readHomework(code);
    return code;
  });

/** Links to one test of any kind. */
export const acceptedLinks = (count: number, roll: Die = die(203)): Promise<string[]> =>
  gathered(count, (i) => {
    const task = i % 2 === 0 ? OTHERS[i % OTHERS.length]! : EAR_TESTS[i % EAR_TESTS.length]!;
    const checked = checkTask(mutated(plain<Json>(task), roll));
    if (!('task' in checked)) throw new Error(checked.wrong);
    const code = wholeCode(checked.task);
    testFromWholeCode(code);
    return code;
  });

/** Links with results of homework that nobody set here. */
export const acceptedResults = (count: number, roll: Die = die(204)): Promise<string[]> =>
  gathered(count, async (i) => {
    const homeworkId = ID(0x900 + i);
    const attempt: Attempt = { ...ATTEMPTS[i % ATTEMPTS.length]!, homeworkId, studentId: ID(0) };
    const json = plain<Json>({ schema: SCHEMA_VERSION, homeworkId, attempts: [attempt] });
    const file = await pack('results', mutated(json, roll));
    await unpackResults(file);
    return toBase64Url(file);
  });

/** Phrases of other programs, as MusicXML. */
export const acceptedPhrases = (count: number, roll: Die = die(205)) =>
  gathered(count, (i) => {
    const options = { kind: 'melody', instrument: 'guitar', tuning: [40, 45, 50, 55, 59, 64] } as const;
    const words = ['<rest/>', '<dot/>', '&amp;', '<chord/>', ' a="1"', '<!-- -->'];
    const text = mutatedText(testToMusicXml(EAR_TESTS[(3 * i + 1) % EAR_TESTS.length]!), words, roll);
    const value = testFromMusicXml(strToU8(text), { ...options, style: 'rock' });
    if (!earTest(value)) throw new Error('no ear test');
    return { id: `fuzz${i}`, name: `Phrase ${i}`, value };
  });

/** What the app keeps for itself, every key changed. Nothing is refused: each page reads what it can. */
export function keptSettings(count: number, roll: Die = die(206)): Record<string, Json>[] {
  return Array.from({ length: count }, () =>
    Object.fromEntries(Object.entries(KEPT).map(([key, value]) => [key, mutated(value, roll)])),
  );
}
