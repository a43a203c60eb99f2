/**
 * AssemblyScript, not TypeScript: what of hearing costs most, several numbers at a time in a SIMD register. `npm run
 * build:simd` compiles this folder to `module.ts`. Every address is a byte address that the caller lays out.
 */
export { bandFrames, powerSpectra } from './spectra';
export { resample, halve } from './filters';
export { correlate } from './correlate';
export { burg, carryOn } from './burg';
export { goertzel } from './goertzel';
export { tilt, pitchRows } from './pitch';
