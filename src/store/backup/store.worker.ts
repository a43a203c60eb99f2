/** Reads or packs much of the record off the page's thread; one job, then the page ends it and its memory with it. */
import { packLoose } from '../blocks.ts';
import { makeDatabase } from '../database.ts';
import { toStoreProblem } from '../problem.ts';
import type { StoreProblemCode } from '../problem.ts';
import { exported } from './export.ts';
import type { ExportKind } from './export.ts';

export interface StoreJob {
  /** Name of the database. */
  readonly name: string;
  readonly what: ExportKind | 'pack';
  readonly nowMs: number;
}
export type StoreAnswer =
  | { readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly problem: { readonly code: StoreProblemCode; readonly message: string } };

self.onmessage = async ({ data: { name, what, nowMs } }: MessageEvent<StoreJob>) => {
  const db = makeDatabase(name);
  try {
    let bytes = new Uint8Array(0);
    if (what === 'pack') await packLoose(db);
    else bytes = await exported(db, what, nowMs);
    self.postMessage({ bytes } satisfies StoreAnswer, { transfer: [bytes.buffer] });
  } catch (error) {
    const { code, message } = toStoreProblem(error);
    self.postMessage({ problem: { code, message } } satisfies StoreAnswer);
  } finally {
    db.close();
  }
};
