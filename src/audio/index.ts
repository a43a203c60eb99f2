/** The door of sound: one AudioContext, rendering, playing, the microphone, hearing in a worker. */
export { openSound } from './openSound.ts';
export { AudioProblem } from './problem.ts';
export { MANIFEST } from './render/manifest.ts';
export type { SampleEntry, SoundManifest, SoundSource } from './render/manifest.ts';
export type * from './types.ts';
