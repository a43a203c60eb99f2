import * as v from 'valibot';
import { id } from '../../music/schema/index.ts';
import { playedIn } from '../../music/sitting.ts';
import { pack, unpack } from '../backup/container.ts';
import { cutAttachments, listAudio } from '../backup/attachments.ts';
import { open } from '../backup/file.ts';
import { ImportProblem } from '../problem.ts';
import { checkRecords, TABLE_NAMES } from '../schema/index.ts';
import { migrate, SCHEMA_VERSION } from '../schema/migrations.ts';
import { firstIssue } from '../schema/records.ts';
import type { Attempt, KeptSitting, SavedAudio } from '../types.ts';
import { toBase64Url } from '../../exchange/index.ts';
import { fromFragment } from './fragment.ts';

/** Stands for the student in a results file: who it is, only the teacher's machine knows. */
const NOBODY = '0'.repeat(32);

const envelope = v.strictObject({
  schema: v.pipe(v.number(), v.integer(), v.minValue(1)),
  homeworkId: id,
  attempts: v.unknown(),
  /** Missing where nothing was sat. */
  sittings: v.exactOptional(v.unknown()),
  /** Missing where no sound goes along. */
  audio: v.exactOptional(v.unknown()),
});

/**
 * Results of one homework, on their way back to the teacher. Attempts carry their own random ids, so the
 * same results by file and by link, twice, or in any order, add up to each attempt once.
 * @param sound of these attempts, where it goes along; what belongs to others stays here
 * @param sat sittings of this homework; `attempts` holds what was played in them too, which goes as the homework's
 */
export async function packResults(
  homeworkId: string,
  attempts: readonly Attempt[],
  sound: readonly SavedAudio[] = [],
  sat: readonly KeptSitting[] = [],
) {
  const sittings = sat
    .filter(({ run }) => run.setup.id === homeworkId)
    .map((one) => ({ ...one, studentId: NOBODY }));
  const inThem = new Set(sittings.flatMap(({ run }) => playedIn(run)));
  const own = attempts
    .filter((one) => one.homeworkId === homeworkId || inThem.has(one.id))
    .map((one) => ({ ...one, homeworkId }));
  const nameless = own.map((attempt) => ({ ...attempt, studentId: NOBODY }));
  const takes = sound
    .filter(({ attemptId }) => own.some(({ id: one }) => one === attemptId))
    .map((take) => ({ ...take, studentId: NOBODY }));
  const json = {
    ...{ schema: SCHEMA_VERSION, homeworkId, attempts: nameless },
    ...(sittings.length > 0 ? { sittings } : {}),
  };
  return pack(
    'results',
    takes.length > 0 ? { ...json, audio: listAudio(takes) } : json,
    takes.map(({ bytes }) => bytes),
  );
}

/** The same as the part after `results=` of a link's fragment. */
export const resultsFragment = async (
  homeworkId: string,
  attempts: readonly Attempt[],
  sat: readonly KeptSitting[] = [],
): Promise<string> => toBase64Url(await packResults(homeworkId, attempts, [], sat));

export interface Results {
  readonly homeworkId: string;
  readonly attempts: readonly Attempt[];
  /** Whole sittings of it; what was played in them is among the attempts. */
  readonly sittings: readonly KeptSitting[];
  /** Sound of some of them; whose it is, only the teacher's machine knows. */
  readonly audio: readonly SavedAudio[];
}

/** @throws ImportProblem; see its codes. */
export async function unpackResults(from: Uint8Array<ArrayBuffer> | string): Promise<Results> {
  const container = await unpack(typeof from === 'string' ? fromFragment(from) : from);
  const result = v.safeParse(envelope, open(container, 'results'), { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  const { schema, homeworkId } = result.output;
  const empty = Object.fromEntries(TABLE_NAMES.map((table) => [table, []]));
  const { attempts, sittings } = checkRecords(
    migrate({ ...empty, attempts: result.output.attempts, sittings: result.output.sittings ?? [] }, schema),
  );
  if (sittings.some(({ run }) => run.setup.id !== homeworkId))
    throw new ImportProblem('invalid', 'a sitting of another homework');
  if (new Set(sittings.map((one) => one.id)).size !== sittings.length)
    throw new ImportProblem('invalid', 'sittings: an id stands twice');
  if (attempts.some((attempt) => attempt.homeworkId !== homeworkId))
    throw new ImportProblem('invalid', 'an attempt of another homework');
  if (new Set(attempts.map((attempt) => attempt.id)).size !== attempts.length)
    throw new ImportProblem('invalid', 'attempts: an id stands twice');
  const { audio } = await cutAttachments([], result.output.audio ?? [], container.attachments);
  if (new Set(audio.map(({ attemptId }) => attemptId)).size !== audio.length)
    throw new ImportProblem('invalid', 'audio: an attempt stands twice');
  if (
    audio.some(
      ({ attemptId, studentId }) =>
        studentId !== NOBODY || !attempts.some(({ id: one }) => one === attemptId),
    )
  )
    throw new ImportProblem('invalid', 'sound of an attempt that is not there');
  return { homeworkId, attempts, sittings, audio };
}
