import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Looks } from '../dsp/decision/looks.ts';
import type { TreeData } from '../dsp/decision/trees.ts';

export const treeText = ({ names, base, nodes }: TreeData): string => `{
  names: [${names.map((name) => `'${name}'`).join(', ')}],
  base: ${base},
  nodes: '${nodes}',
}`;

/** Writes a fitted decision as `src/dsp/decision/weights.ts`. */
export function writeLooks({ first, second }: Looks, made: string): void {
  const path = resolve(import.meta.dirname, '../dsp/decision/weights.ts');
  writeFileSync(
    path,
    `import type { TreeData } from './trees.ts';

/** ${made} Not to be edited by hand. */
// prettier-ignore
export const FIRST_LOOK: TreeData = ${treeText(first)};

// prettier-ignore
export const SECOND_LOOK: TreeData = ${treeText(second)};
`,
  );
}
