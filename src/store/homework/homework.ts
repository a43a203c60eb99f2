import * as v from 'valibot';
import type { Task } from '../../music/task.ts';
import {
  codeFromFigures,
  ExchangeError,
  fromListCode,
  isInFigures,
  isListCode,
  listCode,
  testFromWholeCode,
} from '../../exchange/index.ts';
import { unpack } from '../backup/container.ts';
import { open } from '../backup/file.ts';
import { ImportProblem } from '../problem.ts';
import type { ImportProblemCode } from '../problem.ts';
import { day } from '../schema/parts.ts';
import { checkedTask } from '../schema/index.ts';
import { QUESTION_COUNTS, QUESTION_FORMS, type QuestionSet } from '../../music/question.ts';
import { id, manner, sittingSetup, text, thresholds } from '../../music/schema/index.ts';
import type { SittingSetup } from '../../music/sitting.ts';
import { firstIssue } from '../schema/records.ts';
import type { Homework, Manner, Thresholds } from '../types.ts';
import { fromFragment } from './fragment.ts';
import { remarks } from './remarks.ts';
import type { Remark } from './remarks.ts';

/**
 * What a homework link says: which tests, how, from which marks on they are there, and a random id to answer under.
 * No name.
 */
export interface HomeworkOffer {
  readonly homeworkId: string;
  readonly manner: Manner;
  /** The teacher's, when the link was made; null in links older than this: then the student's own hold. */
  readonly thresholds: Thresholds | null;
  /** Day it is to be done by, "2026-11-28"; null: none. */
  readonly dueOn: string | null;
  /** A line from the teacher; may be empty. */
  readonly text: string;
  /** What the teacher said of takes that came back. */
  readonly remarks: readonly Remark[];
  /** The teacher would like to hear the takes: sound goes along with a file of results, where the student agrees. */
  readonly sound: boolean;
  readonly tests: readonly Task[];
  /** A whole sitting to be sat, its id the homework's; null: none. */
  readonly sitting: SittingSetup | null;
  /** How its rhythms are asked about; null where the link does not say: then the student's own settings hold. */
  readonly question: QuestionSet | null;
}

/** The question's two settings as two letters, their first: a link is short, or its code of dots is large. */
const letters = ({ form, counts }: QuestionSet): string => form[0]! + counts[0]!;
const asks = v.pipe(
  v.picklist(QUESTION_FORMS.flatMap((form) => QUESTION_COUNTS.map((counts) => letters({ form, counts })))),
  v.transform(([first, second]): QuestionSet => ({
    form: QUESTION_FORMS.find((form) => form.startsWith(first!))!,
    counts: QUESTION_COUNTS.find((counts) => counts.startsWith(second!))!,
  })),
);

/** What a list's code says beside the tests. */
const about = v.strictObject({
  homeworkId: id,
  manner,
  thresholds,
  dueOn: v.exactOptional(day),
  text: v.exactOptional(text(200)),
  remarks: v.exactOptional(remarks),
  sound: v.exactOptional(v.literal(true)),
  asks: v.exactOptional(asks),
  sitting: v.exactOptional(sittingSetup),
});

/** Links of version 1 had no outcomes; 1 and 2 held each test packed by itself. From 3 on it is a list's code. */
const schema = v.strictObject({
  version: v.picklist([1, 2]),
  homeworkId: id,
  manner,
  thresholds: v.exactOptional(thresholds),
  codes: v.pipe(v.array(v.string()), v.minLength(1), v.maxLength(100)),
});

/**
 * The part after `homework=` of a link's fragment; put it after `#`, where no server sees it.
 * @param said remarks that travel back with it
 * @param sound whether the teacher would like to hear the takes
 */
export async function homeworkFragment(
  { id: homeworkId, manner, tests, dueOn, text, question, sitting }: Omit<Homework, 'thresholds'>,
  thresholds: Thresholds,
  said: readonly Remark[] = [],
  sound = false,
): Promise<string> {
  return listCode(
    {
      ...{ homeworkId, manner, thresholds },
      ...(dueOn ? { dueOn } : {}),
      ...(text ? { text } : {}),
      ...(said.length > 0 ? { remarks: said } : {}),
      ...(sound ? { sound } : {}),
      ...(question ? { asks: letters(question) } : {}),
      ...(sitting ? { sitting } : {}),
    },
    tests,
    question !== undefined || sitting !== undefined,
  );
}

function readList(code: string): HomeworkOffer {
  let list: ReturnType<typeof fromListCode>;
  try {
    list = fromListCode(code);
  } catch (error) {
    throw refusal(error, 'truncated');
  }
  const { tests } = list;
  const result = v.safeParse(about, list.about, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  const { sitting } = result.output;
  if ((tests.length === 0 && !sitting) || tests.length > 100)
    throw new ImportProblem('invalid', `homework has 1 to 100 tests, this has ${tests.length}`);
  if (sitting && sitting.id !== result.output.homeworkId)
    throw new ImportProblem('invalid', 'a sitting of another homework');
  const {
    dueOn = null,
    text = '',
    remarks = [],
    sound = false,
    asks: question = null,
    ...rest
  } = result.output;
  return {
    ...rest,
    question,
    dueOn,
    text,
    remarks: remarks as readonly Remark[],
    sound,
    tests: tests.map(checkedTask),
    sitting: sitting ?? null,
  };
}

/** @throws ImportProblem when it is cut off, altered, of a newer app, or holds what cannot be. */
export async function readHomework(fragment: string): Promise<HomeworkOffer> {
  if (isInFigures(fragment)) return readHomework(codeOf(fragment));
  if (isListCode(fragment)) return readList(fragment);
  // A list's code of a later version; what is older begins with a letter.
  if (/^[57-9]/.test(fragment)) throw new ImportProblem('newer-version', 'the link was made by a newer app');
  const json = open(await unpack(fromFragment(fragment)), 'homework');
  if (typeof json === 'object' && json !== null && Number((json as { version?: unknown }).version) > 2)
    throw new ImportProblem('newer-version', 'the link was made by a newer app');
  const result = v.safeParse(schema, json, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  return {
    homeworkId: result.output.homeworkId,
    manner: result.output.manner,
    thresholds: result.output.thresholds ?? null,
    ...{ dueOn: null, text: '', remarks: [], sound: false, question: null, sitting: null },
    tests: result.output.codes.map((code) => checkedTask(testOf(code))),
  };
}

/** The code that was scanned as figures. */
function codeOf(figures: string): string {
  try {
    return codeFromFigures(figures);
  } catch (error) {
    throw new ImportProblem('truncated', 'figures are missing from the link', error);
  }
}

function testOf(code: string): Task {
  try {
    return testFromWholeCode(code);
  } catch (error) {
    throw refusal(error, 'invalid');
  }
}

/** What a code's reader says, as a refusal of the whole link. */
function refusal(error: unknown, otherwise: ImportProblemCode): ImportProblem {
  const why = error instanceof ExchangeError ? error.code : null;
  const code = why === 'link-newer' ? 'newer-version' : why === 'link-too-much' ? 'too-big' : otherwise;
  return new ImportProblem(code, error instanceof Error ? error.message : String(error), error);
}
