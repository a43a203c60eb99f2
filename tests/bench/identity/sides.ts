import { execFileSync } from 'node:child_process';
import { existsSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type * as dsp from '../../../src/dsp/index.ts';
import type * as notation from '../../../src/notation/index.ts';
import type * as engine from '../../../src/tests-engine/index.ts';

const ROOT = resolve(import.meta.dirname, '../../..');

/** The cores of one state of the source. */
export interface Side {
  readonly dsp: typeof dsp;
  readonly engine: typeof engine;
  readonly notation: typeof notation;
}

async function sideAt(root: string): Promise<Side> {
  const [ears, tests, signs] = await Promise.all(
    ['dsp', 'tests-engine', 'notation'].map((room) => import(join(root, 'src', room, 'index.ts'))),
  );
  return { dsp: ears, engine: tests, notation: signs } as Side;
}

/** The sources as they were at a commit, checked out beside under `.cache`, with the packages of today. */
function checkOut(commit: string): string {
  const folder = join(ROOT, '.cache/identity', commit);
  if (!existsSync(folder)) {
    execFileSync('git', ['worktree', 'prune'], { cwd: ROOT });
    execFileSync('git', ['worktree', 'add', '--detach', folder, commit], { cwd: ROOT, stdio: 'ignore' });
    symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  }
  return folder;
}

export async function bothSides(commit: string): Promise<{ readonly was: Side; readonly is: Side }> {
  const [was, is] = await Promise.all([sideAt(checkOut(commit)), sideAt(ROOT)]);
  return { was, is };
}
