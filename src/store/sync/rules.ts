import type { VersionRow } from '../rows.ts';

/** Values of `VersionRow.gone`. */
export const STANDS = 0;
export const DELETED = 1;
export const AWAY = 2;

type AwayFrom = VersionRow['awayFrom'];

/** What hangs on an attempt: it is never changed, follows its attempt from student to student, and goes with it. */
export const HANGING: ReadonlySet<string> = new Set(['overrides', 'blindMarks']);
/** Of these what was deleted stays so, whatever was done with it elsewhere meanwhile. */
const DELETED_FOR_GOOD: ReadonlySet<string> = new Set(['attempts', ...HANGING]);

/** How the attempt on which a row hangs is known here. */
export type TakeHere = 'deleted' | 'away' | 'unknown' | { readonly studentId: string };

/** A version that has come in, as far as the rules ask. */
export interface Coming extends Pick<VersionRow, 'at' | 'table' | 'key' | 'studentId' | 'stamp' | 'item'> {
  readonly row: unknown;
  readonly moved: boolean;
}

/** The later of two versions: by stamp, then by their random ids: the same on every machine. */
export const isLater = (
  a: { readonly stamp: number; readonly item: string },
  b: { readonly stamp: number; readonly item: string },
): boolean => a.stamp > b.stamp || (a.stamp === b.stamp && a.item > b.item);

/**
 * Whether what has come takes the place of what is known here. Its student must not have been deleted.
 * @param takeStands for what hangs on an attempt: whether that is here, and whose it is; null where it is not here
 */
export function wins(coming: Coming, here: VersionRow | undefined, takeStands: string | null): boolean {
  const live = coming.row !== null;
  if (HANGING.has(coming.table) && takeStands !== null) {
    // Where its attempt stands it stands too; only what was deleted is not brought back.
    if (!live && coming.moved && takeStands === coming.studentId) return false;
    if (live && here?.gone === AWAY) return true;
  }
  if (here === undefined) return true;
  if (DELETED_FOR_GOOD.has(coming.table)) {
    if (here.gone === DELETED) return !live && !coming.moved && isLater(coming, here);
    if (!live && !coming.moved) return true;
  }
  // The row itself, where only word of it was here.
  if (live && here.gone === AWAY && here.item === coming.item) return true;
  return isLater(coming, here);
}

/** The version of a row that the studio has under the student to whom it belongs here; null: none. */
const known = ({ sent, item, before }: VersionRow): string | null => (sent ? item : before);

/**
 * From whom a row is to be told away, when a version of `studentId` takes the place of the one here: whoever the one here
 * was to be told away from, and its own student, who may hold what the studio has of it.
 */
export function awayAfter(here: VersionRow | undefined, studentId: string): AwayFrom {
  if (here === undefined) return [];
  const others = here.awayFrom.filter((one) => one.studentId !== studentId);
  const item = known(here);
  return here.studentId === studentId || here.studentId === '' || item === null
    ? others
    : withAway(others, { studentId: here.studentId, item });
}

/** The version that a new one of the same student takes the place of in the studio; null: none. */
export const beforeOf = (here: VersionRow | undefined, studentId: string): string | null =>
  here === undefined
    ? null
    : here.studentId === studentId
      ? known(here)
      : (here.awayFrom.find((one) => one.studentId === studentId)?.item ?? null);

/** A student more to be told away from; once each. */
export const withAway = (all: AwayFrom, one: AwayFrom[number]): AwayFrom => [
  ...all.filter(({ studentId }) => studentId !== one.studentId),
  one,
];

/** The version of what has come in. @param before the one whose place it takes at a desk */
export const versionOf = (one: Coming, before: VersionRow | undefined): VersionRow => {
  const awayFrom = awayAfter(before, one.studentId);
  return {
    ...{ at: one.at, table: one.table, key: one.key, studentId: one.studentId, stamp: one.stamp },
    ...{ item: one.item, pending: awayFrom.length > 0 ? 1 : 0, sent: true, before: null, awayFrom },
    gone: one.row !== null ? STANDS : one.moved ? AWAY : DELETED,
  };
};

/** Of a row that hangs on a deleted attempt nothing stays, here or in the studio. */
export const deletedWithTake = (one: Coming): VersionRow => ({
  ...versionOf(one, undefined),
  ...{ pending: 1, gone: DELETED, awayFrom: [{ studentId: one.studentId, item: one.item }] },
});

/**
 * What the version here becomes when another has come and lost: that student may not know of the one here, and is told;
 * whoever has been told by somebody else is not told again.
 * @returns null where nothing changes
 */
export function answerTo(one: Coming, here: VersionRow, take: TakeHere): VersionRow | null {
  if (one.row === null) {
    if (one.item !== here.item || !here.awayFrom.some(({ studentId }) => studentId === one.studentId))
      return null;
    const awayFrom = here.awayFrom.filter(({ studentId }) => studentId !== one.studentId);
    return { ...here, awayFrom, pending: here.sent && awayFrom.length === 0 ? 0 : here.pending };
  }
  if (one.studentId === here.studentId) return null;
  if (typeof take === 'object' && take.studentId === one.studentId) return null;
  return { ...here, pending: 1, awayFrom: withAway(here.awayFrom, one) };
}
