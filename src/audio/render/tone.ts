/**
 * The one door to Tone. Its modules are taken one by one: Tone's index makes an AudioContext of its own and a
 * clock in a blob worker as soon as it is imported (tone 15.5.44, build/esm/index.js: `getContext().transport`),
 * which would be a second context and would need `worker-src blob:`.
 */
export { setContext } from 'tone/build/esm/core/context/GlobalContext.js';
export { Gain } from 'tone/build/esm/core/context/Gain.js';
export { OfflineContext } from 'tone/build/esm/core/context/OfflineContext.js';
export { ToneBufferSource } from 'tone/build/esm/source/buffer/ToneBufferSource.js';
