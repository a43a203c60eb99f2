import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { TreeData } from '../../../src/dsp/decision/trees.ts';

/** Writes a fitted decision as `src/dsp/decision/weights.ts`. */
export function writeTrees(data: TreeData, made: string): void {
  const path = resolve(import.meta.dirname, '../../../src/dsp/decision/weights.ts');
  const names = data.names.map((name) => `'${name}'`).join(', ');
  writeFileSync(
    path,
    `import type { TreeData } from './trees.ts';

/** ${made} Not to be edited by hand. */
// prettier-ignore
export const PLUCK_TREES: TreeData = {
  names: [${names}],
  base: ${data.base},
  nodes: '${data.nodes}',
};
`,
  );
}
