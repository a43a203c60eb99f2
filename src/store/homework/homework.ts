import * as v from 'valibot';
import type { PracticeTest } from '../../music/score.ts';
import { testFromWholeCode, wholeCode } from '../../exchange/index.ts';
import { pack, unpack } from '../backup/container.ts';
import { open } from '../backup/file.ts';
import { ImportProblem } from '../problem.ts';
import { checkedTest } from '../schema/index.ts';
import { id, manner, thresholds } from '../../music/schema/index.ts';
import { firstIssue } from '../schema/records.ts';
import type { Homework, Manner, Thresholds } from '../types.ts';
import { fromBase64Url, toBase64Url } from './fragment.ts';

/**
 * What a homework link says: which tests, how, from which marks on they are there, and a random id to answer under.
 * No name, no date.
 */
export interface HomeworkOffer {
  readonly homeworkId: string;
  readonly manner: Manner;
  /** The teacher's, when the link was made; null in links older than this: then the student's own hold. */
  readonly thresholds: Thresholds | null;
  readonly tests: readonly PracticeTest[];
}

const LINK_VERSION = 2;
/** Links of version 1 had no outcomes. */
const schema = v.strictObject({
  version: v.picklist([1, LINK_VERSION]),
  homeworkId: id,
  manner,
  thresholds: v.exactOptional(thresholds),
  codes: v.pipe(v.array(v.string()), v.minLength(1), v.maxLength(100)),
});

/** The part after `homework=` of a link's fragment; put it after `#`, where no server sees it. */
export async function homeworkFragment(
  { id: homeworkId, manner, tests }: Homework,
  thresholds: Thresholds,
): Promise<string> {
  return toBase64Url(
    await pack('homework', {
      version: LINK_VERSION,
      homeworkId,
      manner,
      thresholds,
      codes: tests.map(wholeCode),
    }),
  );
}

/** @throws ImportProblem when it is cut off, altered, of a newer app, or holds what cannot be. */
export async function readHomework(fragment: string): Promise<HomeworkOffer> {
  const json = open(await unpack(fromBase64Url(fragment)), 'homework');
  if (
    typeof json === 'object' &&
    json !== null &&
    Number((json as { version?: unknown }).version) > LINK_VERSION
  )
    throw new ImportProblem('newer-version', 'the link was made by a newer app');
  const result = v.safeParse(schema, json, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  return {
    homeworkId: result.output.homeworkId,
    manner: result.output.manner,
    thresholds: result.output.thresholds ?? null,
    tests: result.output.codes.map((code) => checkedTest(testOf(code))),
  };
}

function testOf(code: string): PracticeTest {
  try {
    return testFromWholeCode(code);
  } catch (error) {
    throw new ImportProblem('invalid', error instanceof Error ? error.message : String(error), error);
  }
}
