import type { Practised } from '../tests-engine/index.ts';
import type { Json } from './types.ts';

/** The one line that progress needs of an attempt, overrides counted in. Derived: may be thrown away. */
export interface DigestRow {
  readonly attemptId: string;
  readonly studentId: string;
  readonly order: number;
  readonly atMs: number;
  readonly digest: Practised;
}

/** Size of a saved take, kept apart so that counting space reads no sound. */
export interface AudioSize {
  readonly attemptId: string;
  readonly studentId: string;
  readonly order: number;
  readonly bytes: number;
}

/** An attempt that is in no backup yet. */
export interface UnbackedRow {
  readonly attemptId: string;
  readonly studentId: string;
  readonly atMs: number;
}

/**
 * Attempts once more, packed by the hundred, for taking everything out: a browser hands over thousands of rows one by
 * one between its processes, which takes seconds; as packed text they are a tenth of the bytes in a hundredth of the
 * rows. Every attempt is either in one block or among the loose ones, and the same transaction that writes, replaces
 * or deletes an attempt keeps that true.
 */
export interface BlockRow {
  readonly id: string;
  readonly studentId: string;
  /** Schema version of the attempts as they were packed. */
  readonly schema: number;
  readonly attemptIds: readonly string[];
  /** A JSON array of these attempts, gzip. */
  readonly gzip: Uint8Array<ArrayBuffer>;
}

/** An attempt that is in no block yet. */
export interface LooseRow {
  readonly attemptId: string;
  readonly studentId: string;
}

/**
 * What was computed from a student's attempts and costs more to compute than to keep: it is good as long as neither
 * the attempts nor the rule has changed. May be thrown away; in no export.
 */
export interface DerivedRow {
  /** Student and name. */
  readonly key: string;
  readonly studentId: string;
  readonly name: string;
  /** What it was computed from and by. */
  readonly stamp: string;
  readonly value: Json;
}

/**
 * Which version of a row is here, in a studio: kept by every write (`sync/log.ts`), without a studio there is none. A row
 * that was deleted leaves its version, so that nothing older brings it back.
 */
export interface VersionRow {
  /** Table and key. */
  readonly at: string;
  readonly table: string;
  readonly key: string;
  /** Whose row it is; the empty string for what is nobody's. */
  readonly studentId: string;
  /** Place in the hybrid logical order of changes, see `order.ts`. */
  readonly stamp: number;
  /** Id of the version; breaks ties of `stamp`, the same everywhere. */
  readonly item: string;
  /** 1: the studio does not have it yet. */
  readonly pending: 0 | 1;
  /** The studio has this version itself, or will never take it; only `awayFrom` may be left to tell. */
  readonly sent: boolean;
  /** The version before of the same student, where the studio has that. */
  readonly before: string | null;
  /** Students with whom an earlier version may still stand elsewhere, and its id: they are to be told that it no longer does. */
  readonly awayFrom: readonly { readonly studentId: string; readonly item: string }[];
  /**
   * 0: it stands. 1: it was deleted. 2: it is not here, because it was moved to where it cannot be seen from here, or went with
   * a student who was deleted (`studentId` is then empty: whose it was is forgotten).
   */
  readonly gone: 0 | 1 | 2;
}

/** A version of a row that a later one took the place of, on this machine or another. */
export interface HistoryRow {
  readonly item: string;
  readonly studentId: string;
  readonly table: string;
  readonly key: string;
  readonly stamp: number;
  readonly row: Json;
}

/** This machine's place in a studio, or its cursor; `ui` and the studio's client know what it says. */
export interface StudioRow {
  readonly key: 'member' | 'cursor' | 'joining' | 'seen' | 'offered' | 'sound';
  readonly value: Json;
}
