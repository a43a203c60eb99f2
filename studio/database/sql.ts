/** Rows of an answer; what they hold is told by whoever asked. */
export type Rows<T> = T[];

/** What the server asks of a database; PGlite and PostgreSQL give it alike. */
export interface Sql {
  /** One statement with its values as $1, $2 …; never put together from text that came in. */
  query<T = Record<string, unknown>>(text: string, values?: readonly unknown[]): Promise<Rows<T>>;
}

export interface Database extends Sql {
  /** Which engine it is, for the figures. */
  readonly engine: 'pglite' | 'postgres';
  /** All of it or nothing; rejects with what `job` throws. */
  transaction<T>(job: (sql: Sql) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}
