import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';

const FILE = resolve(import.meta.dirname, '../../../figures/chords.md');
const HEAD =
  '# Chords that were asked for: figures\n\nWritten by the bench with `--write`, a part a run; shares in per cent with 95 % intervals (Wilson 1927).\n';

/** Puts one part's lines into the file of figures, in the place of what that part said before. */
export function writeFigures(part: string, command: string, lines: readonly string[]): void {
  const parts = new Map<string, string>();
  if (existsSync(FILE))
    for (const one of readFileSync(FILE, 'utf8')
      .split(/^(?=## )/m)
      .slice(1))
      parts.set(/^## (.*)$/m.exec(one)![1]!, one.trimEnd());
  const day = new Date().toISOString().slice(0, 10);
  const own = lines.flatMap((text) => text.split('\n'));
  parts.set(part, `## ${part}\n\n\`${command}\`, ${day}\n${own.join('\n')}`.trimEnd());
  writeFileSync(FILE, `${[HEAD.trimEnd(), ...parts.values()].join('\n\n')}\n`);
}
