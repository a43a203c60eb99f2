/** Takes everything out off the page's thread; one job, then the page ends it and its memory with it. */
import { makeDatabase } from '../database.ts';
import { toStoreProblem } from '../problem.ts';
import type { StoreProblemCode } from '../problem.ts';
import { exported } from './export.ts';
import type { ExportKind } from './export.ts';

export interface ExportJob {
  /** Name of the database. */
  readonly name: string;
  readonly kind: ExportKind;
  readonly nowMs: number;
}
export type ExportAnswer =
  | { readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly problem: { readonly code: StoreProblemCode; readonly message: string } };

self.onmessage = async ({ data: { name, kind, nowMs } }: MessageEvent<ExportJob>) => {
  const db = makeDatabase(name);
  try {
    const bytes = await exported(db, kind, nowMs);
    self.postMessage({ bytes } satisfies ExportAnswer, { transfer: [bytes.buffer] });
  } catch (error) {
    const { code, message } = toStoreProblem(error);
    self.postMessage({ problem: { code, message } } satisfies ExportAnswer);
  } finally {
    db.close();
  }
};
