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
