import type { Role } from './wire.ts';

/** What a device keeps of its place in a studio. Plain JSON; it holds the keys, as the record beside it is readable too. */
export interface Membership {
  readonly studio: string;
  readonly device: string;
  /** 32 random bytes, base64url: see `identityOf`. */
  readonly seed: string;
  readonly role: Role;
  /** Whose device it is; null for a teacher's. */
  readonly student: string | null;
  readonly keys: readonly HeldKey[];
}

export interface HeldKey {
  readonly id: string;
  /** A student, or the studio itself. */
  readonly scope: string;
  /** 32 bytes, base64url. */
  readonly raw: string;
  readonly retired: boolean;
}

/** Where the next pull begins, and on which copy of the server. */
export interface Cursor {
  readonly after: number;
  readonly era: string | null;
}

/** A row that this device has written and the studio has not; or has deleted: then `row` is null. */
export interface Change {
  readonly table: string;
  readonly key: string;
  readonly scope: string;
  /** The studio has the row itself, or never takes it: only `awayFrom` is to be told. */
  readonly sent: boolean;
  /** With whom an earlier version of it may still stand, and its id. */
  readonly awayFrom: readonly { readonly scope: string; readonly item: string }[];
  /** Place in the hybrid logical order of changes. */
  readonly stamp: number;
  /** Id of this version of the row. */
  readonly item: string;
  /** Id of the version that it takes the place of; null for a new row. */
  readonly before: string | null;
  readonly row: unknown;
  /** Where `row` is null: it was deleted, and has not only gone elsewhere. */
  readonly deleted: boolean;
}

/** What a row says when it travels. Version of the schema included, so that it can be lifted to a later one. */
export interface Version {
  readonly schema: number;
  readonly table: string;
  readonly key: string;
  readonly stamp: number;
  /** Id of the version: what ties are broken by. */
  readonly item: string;
  readonly row: unknown;
  /** It was moved to another student: gone for whoever sees this one alone. */
  readonly moved: boolean;
}

/** A version that came in, with what the server says of its sender. */
export interface Incoming extends Version {
  readonly scope: string;
  readonly role: Role;
}

/** The record, as far as sync has to do with it; `store/sync` is the real one. */
export interface Local {
  /** Version of its records' schema. */
  readonly schema: number;
  cursor(): Promise<Cursor>;
  /** Up to so many, oldest first. */
  pending(most: number): Promise<Change[]>;
  pendingCount(): Promise<number>;
  /** These versions are on the server (or never go there). What was changed since stays pending. */
  sent(items: readonly string[]): Promise<void>;
  /** Students that were deleted here and not there yet. */
  deleted(): Promise<string[]>;
  /**
   * Takes a page in, in one transaction with the cursor: rows by the merge of the record, deletions, and what of it is
   * older than what is here passed over.
   * @throws Error 'newer-schema' where a row is of a version not known here; nothing changed
   */
  apply(page: {
    readonly rows: readonly Incoming[];
    readonly gone: readonly string[];
    readonly cursor: Cursor;
  }): Promise<void>;
  /** The server knows less than it did: all is to be told again. */
  tellAllAgain(): Promise<void>;
}
