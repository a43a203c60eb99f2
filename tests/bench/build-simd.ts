import { writeFileSync } from 'node:fs';
import { compileKernels, MODULE_PATH, moduleText } from '../support/simd.ts';

/** `npm run build:simd`: compiles `src/dsp/simd/kernels` into `module.ts`. A test sees that both belong together. */
writeFileSync(MODULE_PATH, moduleText(await compileKernels()));
