import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { LISTENER_VERSION } from '../../src/dsp/index.ts';
import { GENERATOR_VERSION, MARKER_VERSION } from '../../src/tests-engine/index.ts';
import { fftMicroseconds } from './yardstick.ts';

const FOLDER = join(import.meta.dirname, '../../figures');

/**
 * With `--write` among the arguments, all that a bench prints goes into `figures/NAME.md` as well when it ends, under
 * the date, the command, the versions and the time of an FFT in the same run. The word is taken out of the arguments:
 * a bench need not know of it.
 */
export function figuresOf(name: string, script: string): void {
  const at = process.argv.indexOf('--write');
  if (at < 0) return;
  process.argv.splice(at, 1);
  const command = [script, ...process.argv.slice(2)].join(' ').replace(/ (?=-)/, ' -- ');
  const lines: string[] = [];
  const print = console.log;
  console.log = (...words: unknown[]): void => {
    lines.push(words.map(String).join(' '));
    print(...words);
  };
  process.on('exit', (code) => {
    if (lines.length === 0) return;
    const head = [
      `# ${name}`,
      '',
      `Written by \`npm run ${command} -- --write\` on ${new Date().toISOString().slice(0, 10)}: listener ${LISTENER_VERSION}, marker ${MARKER_VERSION}, generator ${GENERATOR_VERSION}, Node ${process.version}; a 2048-point complex FFT took ${fftMicroseconds().toFixed(0)} µs at its end${code ? '; it ended with an error' : ''}.`,
    ];
    mkdirSync(FOLDER, { recursive: true });
    const body = lines.some((line) => line.startsWith('|')) ? lines : ['```', ...lines, '```'];
    writeFileSync(join(FOLDER, `${name}.md`), `${[...head, '', ...body].join('\n')}\n`);
  });
}
