import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { main } from 'assemblyscript/asc';

const FOLDER = resolve(import.meta.dirname, '../../src/dsp/simd');
export const MODULE_PATH = resolve(FOLDER, 'module.ts');

/** `kernels` compiled, as base64. @throws Error with the compiler's words where it does not compile */
export async function compileKernels(): Promise<string> {
  let bytes: Uint8Array | null = null;
  const options = ['-O3', '--noAssert', '--runtime', 'stub', '--enable', 'simd', '--initialMemory', '1'];
  const { error, stderr } = await main(['kernels/index.ts', ...options, '--outFile', 'kernels.wasm'], {
    readFile: (name) => {
      const file = resolve(FOLDER, name);
      return name.startsWith('kernels/') && existsSync(file) ? readFileSync(file, 'utf8') : null;
    },
    writeFile: (_, contents) => {
      if (typeof contents !== 'string') bytes = contents;
    },
    listFiles: () => [],
  });
  if (error || bytes === null) throw new Error(`kernels do not compile: ${stderr.toString()}`);
  return Buffer.from(bytes).toString('base64');
}

/** What `module.ts` is made of. */
export const moduleText = (base64: string): string =>
  `/** \`kernels\`, compiled by \`npm run build:simd\`. Not to be edited by hand. */
// prettier-ignore
export const SIMD_MODULE =
  '${base64}';
`;
