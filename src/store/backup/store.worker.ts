/** Reads, packs or opens much off the page's thread; one job, then the page ends it and its memory with it. */
import { packLoose } from '../blocks.ts';
import { makeDatabase } from '../database.ts';
import { readHomework } from '../homework/homework.ts';
import type { HomeworkOffer } from '../homework/homework.ts';
import { unpackResults } from '../homework/resultsFile.ts';
import type { Results } from '../homework/resultsFile.ts';
import { ImportProblem, toStoreProblem } from '../problem.ts';
import type { ImportProblemCode, StoreProblemCode } from '../problem.ts';
import { exported } from './export.ts';
import type { ExportKind } from './export.ts';
import { unpackBackup } from './file.ts';
import type { Backup } from './file.ts';

/** What can be asked of the worker, with what it answers. */
export interface StoreJobs {
  /** From the record of this name. */
  export: { given: { name: string; kind: ExportKind; nowMs: number }; answer: Uint8Array<ArrayBuffer> };
  pack: { given: { name: string }; answer: null };
  /** From outside: opened and checked here, so that whatever it is it cannot hold up the page. */
  backup: { given: Uint8Array<ArrayBuffer>; answer: Backup };
  results: { given: Uint8Array<ArrayBuffer> | string; answer: Results };
  homework: { given: string; answer: HomeworkOffer };
}
export type StoreJob = {
  [J in keyof StoreJobs]: { readonly what: J; readonly given: StoreJobs[J]['given'] };
}[keyof StoreJobs];
export type StoreAnswer =
  | { readonly answer: StoreJobs[keyof StoreJobs]['answer'] }
  | { readonly refused: { readonly code: ImportProblemCode; readonly message: string } }
  | { readonly problem: { readonly code: StoreProblemCode; readonly message: string } };

async function withRecord<T>(name: string, job: (db: ReturnType<typeof makeDatabase>) => Promise<T>) {
  const db = makeDatabase(name);
  try {
    return await job(db);
  } finally {
    db.close();
  }
}

async function done(job: StoreJob): Promise<StoreJobs[keyof StoreJobs]['answer']> {
  switch (job.what) {
    case 'export':
      return withRecord(job.given.name, (db) => exported(db, job.given.kind, job.given.nowMs));
    case 'pack':
      return withRecord(job.given.name, async (db) => (await packLoose(db), null));
    case 'backup':
      return unpackBackup(job.given);
    case 'results':
      return unpackResults(job.given);
    case 'homework':
      return readHomework(job.given);
  }
}

self.onmessage = async ({ data }: MessageEvent<StoreJob>) => {
  try {
    const answer = await done(data);
    const transfer = answer instanceof Uint8Array ? [answer.buffer] : [];
    self.postMessage({ answer } satisfies StoreAnswer, { transfer });
  } catch (error) {
    if (error instanceof ImportProblem) {
      const { code, message } = error;
      self.postMessage({ refused: { code, message } } satisfies StoreAnswer);
    } else {
      const { code, message } = toStoreProblem(error);
      self.postMessage({ problem: { code, message } } satisfies StoreAnswer);
    }
  }
};
